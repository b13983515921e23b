"""Whether a finding that was accepted has become a worse one since."""

import math
from dataclasses import dataclass

from groundcheck.shortfall import further_off
from groundcheck.waivers.waiver import Waiver, kept_text, rounded

_RANK = {"high": 3, "medium": 2, "low": 1}


@dataclass(frozen=True)
class FoundNow:
    """What a finding says in this audit: texts as shown, and numbers where they are some."""

    finding: str
    rule: str
    substation: str
    asset_kind: str
    asset: str
    item: str | None
    severity: str
    actual: str | None
    required: str | None
    unit: str | None
    actual_value: float | None
    required_value: float | None

    def value(self, side: str) -> float | str | None:
        """Actual or required in the form in which a waiver keeps it."""
        number = rounded(getattr(self, f"{side}_value"))
        return number if number is not None else kept_text(getattr(self, side))


def worsened(waiver: Waiver, now: FoundNow, share: float) -> str | None:
    """
    What has become worse since the waiver, as 'then, now' in words; None if nothing has, or nothing can be compared.

    Numbers are worse where the distance of actual from required, in shares of required, has grown by more than
    `share`, or actual stands on the other side of it. A text, or a unit, is worse where it is another.
    """
    if waiver.severity and _RANK.get(now.severity, 0) > _RANK.get(waiver.severity, 0):
        return f"severity {waiver.severity} then, {now.severity} now"
    then = {side: getattr(waiver, side) for side in ("actual", "required")}
    found = {side: now.value(side) for side in then}
    known = [side for side, value in then.items() if value is not None]
    if not known:
        return None
    if waiver.unit and waiver.unit != kept_text(now.unit):
        return _then_now(known, waiver, now, always=True)
    actual, required = (then[side] for side in ("actual", "required"))
    actual_now, required_now = (found[side] for side in ("actual", "required"))
    if all(isinstance(value, float) for value in (actual, required, actual_now, required_now)):
        worse = further_off(actual, required, actual_now, required_now, share)  # type: ignore[arg-type]
    else:
        worse = any(_is_another(then[side], found[side], share) for side in known)
    return _then_now(known, waiver, now) if worse else None


def _is_another(then: float | str | None, now: float | str | None, share: float) -> bool:
    if isinstance(then, float) and isinstance(now, float) and math.isfinite(then) and math.isfinite(now):
        return abs(now - then) > share * abs(then)
    return then != now


def _then_now(known: list[str], waiver: Waiver, now: FoundNow, always: bool = False) -> str:
    """The sides that differ, each 'actual 640 A then, 700 A now'."""
    parts = []
    for side in known:
        before, after = getattr(waiver, side), now.value(side)
        if before != after or always:
            shown = (_shown(before, waiver.unit or now.unit), _shown(after, now.unit))
            parts.append(f"{side} {shown[0]} then, {shown[1]} now")
    return "; ".join(parts)


def _shown(value: float | str | None, unit: str | None) -> str:
    if value is None:
        return "not on record"
    if isinstance(value, str):
        return value
    if math.isinf(value):
        return "without limit"
    return f"{value:g} {unit}" if unit else f"{value:g}"
