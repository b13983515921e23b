"""Computes the study tables from the inventory; imports engineering, schema, policy and store."""
