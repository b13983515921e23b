"""From a sheet's cells to records: where its tables are, which canonical tables they feed, and each field's values."""
