"""Whether insulation bears the voltage of a ground fault for as long as it lasts."""
