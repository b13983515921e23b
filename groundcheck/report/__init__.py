"""Writes what the store holds for people; imports schema and store."""
