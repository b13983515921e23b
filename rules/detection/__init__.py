"""Whether a ground fault is seen."""
