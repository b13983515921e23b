"""The tables that the program fills: raw, study and audit; imports the column wrappers and the table base only."""
