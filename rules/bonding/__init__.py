"""Whether equipment is connected to the mat, by straps that carry its ground fault."""
