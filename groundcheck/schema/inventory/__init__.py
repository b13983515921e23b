"""The canonical tables, a file each; may import nothing but the column wrappers, the table base and the vocabulary."""
