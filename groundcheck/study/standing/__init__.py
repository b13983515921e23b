"""Zones that run on through a ground fault: second faults, how long, screens; imports devices, relays."""
