"""Whether instrument-transformer secondaries are grounded once."""
