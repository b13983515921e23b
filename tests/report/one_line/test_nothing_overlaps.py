"""Texts lie beside one another and beside symbols, and every asset on record is drawn once."""

from collections import Counter
from itertools import combinations
from typing import Any

import pytest
from report.one_line.stations import troubled
from report.one_line.wires import crosses, wires

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


def crossed(drawing: Picture) -> list[str]:
    """Texts that a wire or a bar crosses; symbols that the lead of something else crosses."""
    pieces, leads = list(wires(drawing.svg)), list(wires(drawing.svg, leads_only=True))
    found = []
    for box in drawing.boxes:
        inset = {"text": 0.5, "symbol": 1.0}.get(box.what)
        if inset is not None:
            inner = (box.left + inset, box.top + inset, box.right - inset, box.bottom - inset)
            found += [box.says for piece in (pieces if box.what == "text" else leads) if crosses(piece, *inner)]
    return found


def passed(drawing: Picture) -> list[str]:
    """Bars that a lead goes straight through."""
    bars = [box for box in drawing.boxes if box.what == "bar"]
    return [
        bar.says
        for x, y, x2, y2 in wires(drawing.svg, leads_only=True)
        for bar in bars
        if x == x2 and bar.left < x < bar.right and min(y, y2) < bar.top - 0.5 and bar.bottom + 0.5 < max(y, y2)
    ]


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
    assert crossed(drawing) == []
    assert passed(drawing) == []
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


def test_crossing_is_noticed(generated: Any) -> None:
    drawing = picture(generated[0])
    x, y, x2, y2 = next(piece for piece in wires(drawing.svg, leads_only=True) if piece[0] == piece[2])
    middle = (y + y2) / 2
    text = next(box for box in drawing.boxes if box.what == "text")
    drawing.boxes.append(text._replace(left=x - 3, right=x + 3, top=middle - 2, bottom=middle + 2))
    drawing.boxes.append(text._replace(left=x - 9, right=x2 + 9, top=middle - 2, bottom=middle + 2, what="bar"))
    assert crossed(drawing) == [text.says]
    assert passed(drawing) == [text.says]


def test_a_lead_that_passes_a_bus_shows_a_gap() -> None:
    """Common practice, no source: what crosses without a dot must not look connected."""
    drawing = picture(TROUBLED["CROSSED"])
    bars = {box.says: box for box in drawing.boxes if box.what == "bar"}
    uprights = [piece for piece in wires(drawing.svg, leads_only=True) if piece[0] == piece[2]]
    above, bar = bars["A2"], bars["B2"]
    through = [x for x, y, _, y2 in uprights if max(y, y2) == (bar.top + bar.bottom) / 2 and min(y, y2) > above.bottom]
    assert through
    assert any(y < above.top - 2 and y2 < above.top - 2 for x, y, _, y2 in uprights if x in through)


def test_a_third_lead_goes_beside_the_bus_between(generated: Any) -> None:
    station = next(each for each in generated if each["substation"] == "AUTO_TRANSFORMER")
    bars = {box.says: box for box in picture(station).boxes if box.what == "bar"}
    assert bars["B115"].left > bars["B13"].left + 100


def test_bars_of_a_tier_do_not_touch(generated: Any, sample: Any) -> None:
    for station in [*generated, *(each for each, _ in sample)]:
        bars = [box for box in picture(station).boxes if box.what == "bar"]
        for a, b in combinations(bars, 2):
            assert a.bottom <= b.top or b.bottom <= a.top or a.right < b.left or b.right < a.left
