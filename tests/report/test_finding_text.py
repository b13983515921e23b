"""One finding as text carries its numbers back to the cell."""

from collections.abc import Callable

import pytest

from groundcheck.errors import NoSuchFinding
from groundcheck.report.finding_text import finding_text
from groundcheck.store import Store


def test_finding_tells_working_evidence_and_caution(filled_store: Store) -> None:
    lines = finding_text(filled_store, "f-1").splitlines()
    assert "source:        north.xlsx · Resistors · C6" in lines
    working = lines.index("working:")
    assert lines[working + 1] == "  640 A let-through x 1 margin = 640 A"
    assert "actual:        400 A" in lines
    assert "caution:       Isolate and prove dead first." in lines
    assert "  neutral_device.rated_current of NR1 = 400 A (north.xlsx · Resistors · C6, found '400')" in lines
    assert "  neutral_duty.current_a of NR1 = 640 A (computed)" in lines
    behind = lines.index("the computed ones come from, nearest first:")
    assert lines[behind + 1] == "  infeed.x_over_r of Q = 10 (north.xlsx · Supplies · D4, found '10')"


def test_unknown_finding_names_the_nearest(filled_store: Store) -> None:
    with pytest.raises(NoSuchFinding) as refusal:
        finding_text(filled_store, "f-11")
    assert str(refusal.value) == "no finding f-11 in the store; nearest is f-1"


def test_store_without_findings_says_so(empty_store: Store) -> None:
    with pytest.raises(NoSuchFinding) as refusal:
        finding_text(empty_store, "f-1")
    assert str(refusal.value) == "no finding f-1 in the store; it holds none"


def test_input_that_is_not_on_record_is_said_to_be(filled_store: Store, fill: Callable[..., None]) -> None:
    fill(
        filled_store,
        "audit.evidence",
        {"finding": "f-1", "position": 3, "role": "input", "input": "ground_relay.measures"},
    )
    assert "  ground_relay.measures = not on record" in finding_text(filled_store, "f-1").splitlines()
