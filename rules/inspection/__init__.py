"""Whether what is inspected was inspected, in time, and found in order."""
