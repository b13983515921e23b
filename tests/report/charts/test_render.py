"""Charts become pictures without a browser, and hostile text stays text in them."""

import xml.etree.ElementTree as ET
from collections.abc import Callable
from typing import Any

import pytest

from groundcheck.report.charts import chart_png, chart_svg, fleet_chart, fleet_charts, margins_chart
from groundcheck.report.charts.labels import label, led
from groundcheck.store import Store

TEXT = "{http://www.w3.org/2000/svg}text"


@pytest.mark.parametrize("dark", [False, True])
def test_every_chart_of_the_sample_fleet_is_drawn(sample_store: Store, dark: bool) -> None:
    drawn = [chart for chart in fleet_charts(sample_store).values() if chart]
    assert len(drawn) == 3
    for chart in drawn:
        picture = ET.fromstring(chart_svg(chart, dark=dark))
        assert "".join(picture[1].itertext()) == chart.description
        assert sum(1 for _ in picture.iter(TEXT)) > 10
        assert not any(
            "NaN" in value or "undefined" in value for each in picture.iter() for value in each.attrib.values()
        )


def test_a_picture_of_pixels_has_the_size_asked_for(filled_store: Store) -> None:
    chart = fleet_chart(filled_store)
    assert chart
    one, three = (chart_png(chart, scale=scale, width=400) for scale in (1, 3))
    assert one.startswith(b"\x89PNG")
    widths = [int.from_bytes(png[16:20], "big") for png in (one, three)]
    assert widths == [424, 3 * 424]


def test_hostile_text_is_text_in_a_picture(
    empty_store: Store, fill: Callable[..., None], finding: dict[str, Any], hostile_text: str
) -> None:
    values = {"actual_value": 1.0, "required_value": 2.0, "unit": hostile_text, "actual": hostile_text}
    named = {"substation": hostile_text, "district": hostile_text}
    fill(empty_store, "inventory.substation", named | {"name": hostile_text})
    fill(empty_store, "audit.finding", finding | named | values | {"rule": f"x/{hostile_text}", "asset": hostile_text})
    for chart in (fleet_chart(empty_store), margins_chart(empty_store)):
        assert chart
        picture = ET.fromstring(chart_svg(chart))
        assert not [each.tag for each in picture.iter() if each.tag.rpartition("}")[2] in ("script", "a", "t", "r")]
    texts = ["".join(each.itertext()) for each in picture.iter(TEXT)]
    assert any(" ".join(label(hostile_text).replace("-", " ").split())[:8] in " ".join(text.split()) for text in texts)


def test_names_are_cut_to_one_line_and_cannot_turn_what_follows() -> None:
    assert label("a\nb\x00c", 80) == "a bc"
    assert label("x" * 100, 10) == "x" * 9 + "…"
    assert "\u202e" not in label("\u202eabc")
    assert led("\u05d0", ": 3 stations") == "\u05d0\u200e: 3 stations"
    assert led("Vale", ": 3 stations") == "Vale: 3 stations"
