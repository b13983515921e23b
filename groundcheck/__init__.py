"""Audits the neutral-grounding records of a fleet of substations."""
