"""How far what is stands from what is required, in percent of what is required."""

import math


def margin(actual: float | None, required: float | None) -> float | None:
    """
    Percent above (positive) or below (negative) what is required, to three digits.

    None where there is no such number: a side is not on record, without limit, or nothing is required.
    """
    if actual is None or required is None or not math.isfinite(actual) or not math.isfinite(required) or required == 0:
        return None
    share = 100 * (actual - required) / abs(required)
    return float(f"{share:.3g}") if math.isfinite(share) else None
