"""Of a quantity `x`, `x_low` and `x_high` hold it whatever its inputs' tolerances and whatever is not on record."""

LOW, HIGH = "Its lower bound.", "Its upper bound."
