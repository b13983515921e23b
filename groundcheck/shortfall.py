"""Whether actual stands further from what is required than it did: the one measure of a finding grown worse."""

import math


def further_off(actual: float, required: float, actual_now: float, required_now: float, share: float) -> bool:
    """
    Whether the distance of actual from required, in shares of required, has grown by more than `share`.

    So it has where actual stands on the other side now. Where one side has no limit, then and now, the other one tells.
    """
    if (actual - required) * (actual_now - required_now) < 0:
        return True
    if 0 in (required, required_now):  # no share of nothing: the growth of actual itself
        return abs(actual_now - required_now) > abs(actual - required) * (1 + share)
    then, now = _distance(actual, required), _distance(actual_now, required_now)
    if math.isinf(then) and math.isinf(now):
        if math.isinf(required) != math.isinf(required_now):
            return True
        finite, finite_now = (actual, actual_now) if math.isinf(required) else (required, required_now)
        return finite_now < finite - share * abs(finite)
    return now > then + share + 1e-9


def _distance(actual: float, required: float) -> float:
    if actual == required:
        return 0.0
    if math.isinf(actual) or math.isinf(required):
        return math.inf
    return abs(actual - required) / abs(required)
