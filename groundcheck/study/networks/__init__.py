"""Inventory to solved networks: zones, equipment, neutrals, sequences, corners; imports engineering."""
