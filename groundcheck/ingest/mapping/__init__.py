"""From headings to fields: by name, by alias, by close match, or by the word of a column map."""
