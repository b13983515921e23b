"""What relays measure, and currents read there and at neutrals, with their bounds; imports networks."""
