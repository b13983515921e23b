"""Whether the record holds together."""
