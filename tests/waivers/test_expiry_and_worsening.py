"""When a waived finding comes back: the day after its last, or as soon as it is a worse one."""

import math
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from waivers_world import FIRST, RATED, put_findings

from groundcheck.store import Store
from groundcheck.waivers.waiver import Waiver
from groundcheck.waivers.worsening import FoundNow, worsened

Judge = Callable[..., dict[str, tuple[str, str | None]]]
ENTRY: dict[str, Any] = {"finding": FIRST, "by": "A. Owner", "reason": "ordered", "until": date(2026, 1, 31)}
THEN = {"severity": "high", "actual": 400, "required": 640, "unit": "A"}


@pytest.mark.parametrize(
    ("as_of", "told"),
    [
        (date(2026, 1, 30), ("waived", "waived by A. Owner until 2026-01-31: ordered")),
        (date(2026, 1, 31), ("waived", "waived by A. Owner until 2026-01-31: ordered")),
        (date(2026, 2, 1), ("open", "waiver by A. Owner expired 2026-01-31")),
    ],
)
def test_waiver_holds_through_its_last_day(
    toml: Callable[..., Path], waive: Judge, as_of: date, told: tuple[str, str]
) -> None:
    assert waive(toml(ENTRY | THEN), as_of=as_of)[FIRST] == told


# Distance of 400 A from what is required, in shares of it: 0.375 of 640 A; with 0.01 more, 0.385, that is of 650.4 A.
@pytest.mark.parametrize(
    ("now", "worse"),
    [
        ({"required_value": 640.0}, None),
        ({"required_value": 650.0}, None),
        ({"required_value": 651.0}, "required 640 A then, 651 A now"),
        ({"actual_value": 393.7}, None),
        ({"actual_value": 393.5}, "actual 400 A then, 393.5 A now"),
        ({"actual_value": 500.0}, None),
        ({"actual_value": 800.0, "required_value": 1280.0}, None),
        ({"severity": "medium"}, None),
    ],
)
def test_numbers_are_worse_where_the_distance_grew_by_more_than_the_share(
    store: Store, toml: Callable[..., Path], waive: Judge, now: dict[str, Any], worse: str | None
) -> None:
    put_findings(store, RATED | now)
    status, said = waive(toml(ENTRY | THEN))[FIRST]
    if worse is None:
        assert (status, said) == ("waived", "waived by A. Owner until 2026-01-31: ordered")
    else:
        assert (status, said) == ("open", f"worse than when A. Owner waived it: {worse}")


def test_severity_that_was_raised_is_worse(store: Store, toml: Callable[..., Path], waive: Judge) -> None:
    told = waive(toml(ENTRY | THEN | {"severity": "medium"}))[FIRST]
    assert told == ("open", "worse than when A. Owner waived it: severity medium then, high now")


def test_without_numbers_at_acceptance_nothing_is_compared_and_the_waiver_says_so(
    store: Store, toml: Callable[..., Path], waive: Judge
) -> None:
    assert waive(toml(ENTRY))[FIRST][0] == "waived"
    ((remark,),) = store.sql("SELECT remark FROM audit.waiver").fetchall()
    assert remark == "its numbers at acceptance are not on record, so that a worse finding could not be told"


def judged(then: tuple[Any, Any, str | None], now: tuple[Any, Any, str | None], share: float = 0.01) -> str | None:
    """Actual, required and unit at acceptance, and now; numbers are floats."""
    waiver = Waiver("F1", "A", "why", date(2027, 1, 1), actual=then[0], required=then[1], unit=then[2])
    texts = [None if isinstance(value, float) else value for value in now[:2]]
    numbers = [value if isinstance(value, float) else None for value in now[:2]]
    found = FoundNow("F1", "r", "S", "bus", "B", None, "high", *texts, now[2], *numbers)
    return worsened(waiver, found, share)


@pytest.mark.parametrize(
    ("then", "now", "worse"),
    [
        # A limit that actual must stay below: touch voltage 900 V where 600 V are allowed.
        ((900.0, 600.0, "V"), (905.0, 600.0, "V"), None),
        ((900.0, 600.0, "V"), (907.0, 600.0, "V"), "actual 900 V then, 907 V now"),
        ((900.0, 600.0, "V"), (800.0, 600.0, "V"), None),
        # On the other side of what is required, it is another defect, however near.
        ((0.9, 1.0, "pu"), (1.05, 1.0, "pu"), "actual 0.9 pu then, 1.05 pu now"),
        # Nothing is allowed: no share of it, but of actual.
        ((3.0, 0.0, "A"), (3.0, 0.0, "A"), None),
        ((3.0, 0.0, "A"), (3.1, 0.0, "A"), "actual 3 A then, 3.1 A now"),
        # A duty without limit.
        ((10.0, math.inf, "s"), (10.0, math.inf, "s"), None),
        ((10.0, math.inf, "s"), (60.0, math.inf, "s"), None),
        ((10.0, math.inf, "s"), (5.0, math.inf, "s"), "actual 10 s then, 5 s now"),
        ((10.0, 20.0, "s"), (10.0, math.inf, "s"), "required 20 s then, without limit now"),
        ((10.0, math.inf, "s"), (10.0, 20.0, "s"), None),
        # Texts.
        (("no bond", "a bond", None), ("no bond", "a bond", None), None),
        (("wye", "delta", None), ("zigzag", "delta", None), "actual wye then, zigzag now"),
        (("none", 3.0, "A"), ("none", 3.0, "A"), None),
        ((5.0, None, "A"), (None, None, "A"), "actual 5 A then, not on record now"),
        # Another unit can't be compared.
        ((400.0, 640.0, "A"), (0.4, 0.64, "kA"), "actual 400 A then, 0.4 kA now; required 640 A then, 0.64 kA now"),
    ],
)
def test_what_counts_as_worse(
    then: tuple[Any, Any, str | None], now: tuple[Any, Any, str | None], worse: str | None
) -> None:
    assert judged(then, now) == worse


def test_no_share_lets_nothing_through() -> None:
    assert judged((400.0, 640.0, "A"), (400.0, 640.1, "A"), share=0.0) == "required 640 A then, 640.1 A now"
    assert judged((400.0, 640.0, "A"), (400.0, 640.0, "A"), share=0.0) is None


@pytest.mark.parametrize(
    ("outcome", "remark"),
    [
        ("satisfied", "no finding any more: satisfied"),
        ("not_assessable", "no finding any more, but not assessable: what was on record is not"),
        (None, "no finding any more: not asked in this audit"),
    ],
)
def test_waiver_whose_finding_is_gone_tells_how_the_question_ended(
    store: Store, toml: Callable[..., Path], waive: Judge, outcome: str | None, remark: str
) -> None:
    put_findings(store, RATED | {"asset": "NR2"})
    whose = {name: RATED[name] for name in ("rule", "substation", "asset_kind", "asset")}
    if outcome:
        values = [*whose.values(), outcome]
        store.connection.execute(
            "INSERT INTO audit.result (rule, substation, asset_kind, asset, outcome) VALUES (?, ?, ?, ?, ?)", values
        )
    waive(toml(ENTRY | THEN | whose))
    assert store.sql("SELECT state, remark FROM audit.waiver").fetchall() == [("finding_cleared", remark)]
