"""Reads workbooks and csv files into raw and inventory; imports schema, policy and store."""
