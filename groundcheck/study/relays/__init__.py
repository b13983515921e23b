"""What ground relays and detectors see, how fast they are, how long faults last; imports currents, faults."""
