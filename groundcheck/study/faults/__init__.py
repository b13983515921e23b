"""Faults at every bus with bounds, what each source contributes, and the zones; imports networks, currents."""
