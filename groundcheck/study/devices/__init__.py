"""What each neutral device and grounding transformer carries, bears and needs; imports currents, relays."""
