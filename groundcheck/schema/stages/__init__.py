"""The tables that the program itself fills: raw, study and audit; may import nothing but the column wrappers and the table base."""
