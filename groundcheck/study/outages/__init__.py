"""Each ground source out of service in turn; imports networks, faults."""
