"""Whether ground-fault current has a way back, and the way that the record declares."""
