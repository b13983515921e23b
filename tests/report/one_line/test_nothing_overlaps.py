"""Texts lie beside one another and beside symbols, and every asset on record is drawn once."""

from collections import Counter
from itertools import combinations
from typing import Any

import pytest
from report.one_line.stations import troubled

from groundcheck.report.one_line.draw import Picture, picture

DRAWN_ONCE = (
    "bus", "transformer", "infeed", "generator", "grounding_transformer", "neutral_device", "line", "switch",
    "ground_relay", "ground_detector", "arrester", "ground_grid",
)  # fmt: skip
TROUBLED = {station["substation"]: station for station in troubled()}


def overlaps(drawing: Picture) -> list[tuple[str, str]]:
    """Texts that cover a text, a symbol or a bar; symbols that cover one another."""
    found = []
    boxes = sorted(drawing.boxes, key=lambda box: box.left)
    for number, a in enumerate(boxes):
        for b in boxes[number + 1 :]:
            if b.left >= a.right - 0.5:
                break
            if a.what != "text" != b.what or a.bottom <= b.top + 0.5 or b.bottom <= a.top + 0.5:
                continue
            found.append((a.says, b.says))
    return found


def expected(station: dict[str, Any]) -> Counter[str]:
    """What must be drawn, each once."""
    found: Counter[str] = Counter()
    for kind in DRAWN_ONCE:
        for row in station["inventory"].get(kind, ()):
            if row.get("status", "in service") == "in service":
                own = row["substation"] == station["substation"]
                found[f"{kind}:{row[kind]}" if own else f"{kind}:{row['substation']}:{row[kind]}"] += 1
    return found


def check(station: Any, findings: Any = ()) -> None:
    drawing = picture(station, findings, standalone=True)
    assert overlaps(drawing) == []
    drawn = Counter(each for each in drawing.assets if not each.startswith("instrument_transformer:"))
    assert drawn == expected(station)


def test_of_the_sample_fleet(sample: Any) -> None:
    for station, findings in sample:
        check(station, findings)


def test_of_generated_stations(generated: Any) -> None:
    for station in generated:
        check(station)


@pytest.mark.parametrize("code", TROUBLED)
def test_of_troubled_records(code: str) -> None:
    check(TROUBLED[code])


def test_all_voltage_transformers_are_drawn(generated: Any) -> None:
    for station in generated:
        vts = {
            f"instrument_transformer:{row['instrument_transformer']}"
            for row in station["inventory"].get("instrument_transformer", ())
            if row["kind"] == "vt"
        }
        assert vts <= set(picture(station).assets)


def test_overlap_is_noticed(generated: Any) -> None:
    drawing = picture(generated[0])
    first = next(box for box in drawing.boxes if box.what == "text")
    drawing.boxes.append(first._replace(left=first.left + 1))
    assert overlaps(drawing)


def test_bars_of_a_tier_do_not_touch(generated: Any, sample: Any) -> None:
    for station in [*generated, *(each for each, _ in sample)]:
        bars = [box for box in picture(station).boxes if box.what == "bar"]
        for a, b in combinations(bars, 2):
            assert a.bottom <= b.top or b.bottom <= a.top or a.right < b.left or b.right < a.left
