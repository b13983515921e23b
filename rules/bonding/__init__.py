"""Whether equipment is connected to the mat."""
