"""Straps, ground mats, shield wires, secondaries grounded twice; imports currents, faults."""
