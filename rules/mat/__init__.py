"""Whether the mat carries a ground fault, keeps its resistance, and holds voltages to what a person bears."""
