"""What a person says of a finding: accepted until a date, or open, corrected or disputed."""

import hashlib
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from groundcheck.finding_identity import finding_id

ACCEPTED = "accepted"
OPEN = "open"
DISPOSITIONS = (OPEN, ACCEPTED, "corrected", "disputed")

NAME_LIMIT = 200  # characters of a person's name
REASON_LIMIT = 4_000  # characters of a reason: what a person still reads in a cell
KEPT = 200  # characters of a text that are kept to compare it with a later one
DIGITS = 6  # significant digits of a number at acceptance; the engines agree to more

# What tells a finding apart for a person; with the item, the identity is computed from them.
SUBJECT = ("rule", "substation", "asset_kind", "asset")


@dataclass(frozen=True)
class Waiver:
    """
    One finding accepted.

    `actual` and `required` are the finding's at acceptance, numbers where they were some: by them a worse one is told.
    `by_hand` is one that was written into a workbook, and `over` holds the marks of the waivers whose place it took.
    """

    finding: str
    by: str
    reason: str
    until: date
    accepted_on: date | None = None
    rule: str | None = None
    substation: str | None = None
    asset_kind: str | None = None
    asset: str | None = None
    item: str | None = None
    severity: str | None = None
    actual: float | str | None = None
    required: float | str | None = None
    unit: str | None = None
    source: str = ""
    place: str = ""
    by_hand: bool = False
    over: tuple[str, ...] = ()

    def says_the_same_as(self, other: "Waiver") -> bool:
        """Whether both accept the finding alike: by the same person, for the same reason, until the same day."""
        return (self.finding, self.by, self.reason, self.until) == (
            other.finding,
            other.by,
            other.reason,
            other.until,
        )

    @property
    def mark(self) -> str:
        """A short text by which what this waiver says is known again, wherever it says it."""
        said = (self.finding, self.by, self.reason, self.until, self.severity, self.actual, self.required, self.unit)
        return hashlib.sha256(repr(said).encode()).hexdigest()[:12]


@dataclass(frozen=True)
class Disposition:
    """What a person wrote beside a finding that accepts nothing; `withdraws` an acceptance if there was one."""

    finding: str
    disposition: str
    by: str | None = None
    until: date | None = None
    remark: str | None = None
    source: str = ""
    place: str = ""
    withdraws: bool = True
    over: tuple[str, ...] = ()


def rounded(value: float | None) -> float | None:
    """A number as it is kept at acceptance."""
    return None if value is None else float(f"{value:.{DIGITS}g}")


def kept_text(text: str | None) -> str | None:
    """A text as it is kept at acceptance."""
    return text[:KEPT] if text else None


def identity_of(facts: dict[str, Any]) -> str | None:
    """The identity of the finding that rule, station, kind, asset and item name; None if one of the four is missing."""
    rule, substation, asset_kind, asset = (facts.get(name) for name in SUBJECT)
    if rule and substation and asset_kind and asset:
        return finding_id(rule, substation, asset_kind, asset, facts.get("item"))
    return None


def keep_first_acceptance(later: Waiver, earlier: Waiver) -> Waiver:
    """The later of two waivers that say the same, with what only the earlier one has."""
    numbers = ("severity", "actual", "required", "unit")
    known = {name: getattr(earlier, name) for name in (*SUBJECT, "item") if getattr(later, name) is None}
    if all(getattr(later, name) is None for name in numbers):
        known |= {name: getattr(earlier, name) for name in (*numbers, "accepted_on")}
    elif all(getattr(later, name) == getattr(earlier, name) for name in numbers):
        known["accepted_on"] = earlier.accepted_on or later.accepted_on
    return replace(later, **known)
