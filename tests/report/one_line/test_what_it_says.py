"""What a drawing shows, to the eye, to a page and to a screen reader."""

import re
from typing import Any
from xml.etree import ElementTree

import pytest
import vl_convert
from report.one_line.stations import station, troubled

from groundcheck.report.one_line import one_line_key_svg, one_line_svg
from groundcheck.report.one_line.draw import picture

NAMESPACE = "{http://www.w3.org/2000/svg}"
BUSES = [
    {"bus": "B33", "nominal_voltage": 33.0, "declared_grounding": "effective"},
    {"bus": "B11", "nominal_voltage": 11.0},
]
UNIT = {
    "transformer": "T1",
    "hv_bus": "B33",
    "lv_bus": "B11",
    "vector_group": "Dyn11",
    "rated_power": 20.0,
    "impedance": 10.0,
}
RESISTOR = {"neutral_device": "NR1", "connected_to": ["T1"], "winding": "lv", "kind": "resistor", "resistance": 15.9,
            "rated_current": 400.0, "rated_time": 10.0}  # fmt: skip


def primary(**more: Any) -> dict[str, Any]:
    """33/11 kV, delta-wye."""
    tables = {"bus": [dict(row) for row in BUSES], "transformer": [dict(UNIT)]}
    return station("ELM", **{**tables, **more})


def texts(svg: str) -> list[str]:
    return ["".join(each.itertext()) for each in ElementTree.fromstring(svg).iter(f"{NAMESPACE}text")]


def asset(svg: str, name: str) -> ElementTree.Element:
    return next(each for each in ElementTree.fromstring(svg).iter() if each.get("data-asset") == name)


def test_a_resistor_stands_in_the_neutral_with_its_ratings() -> None:
    svg = one_line_svg(primary(neutral_device=[dict(RESISTOR)]))
    assert {"resistor 15.9 ohm", "400 A, 10 s", "20 MVA Dyn11", "Z 10 %"} <= set(texts(svg))
    assert "neutral of T1 LV" in "".join(asset(svg, "neutral_device:NR1").itertext())


def test_a_neutral_with_nothing_on_record_says_so() -> None:
    assert {"?", "not on record"} <= set(texts(one_line_svg(primary())))


def test_a_delta_has_no_neutral() -> None:
    assert "?" not in texts(one_line_svg(primary(transformer=[{**UNIT, "vector_group": "Dd0"}])))


def test_what_is_not_in_service_is_named_and_not_drawn() -> None:
    drawing = picture(primary(neutral_device=[{**RESISTOR, "status": "removed"}]))
    assert "neutral_device:NR1" not in drawing.assets
    assert any("Not in service, not drawn: neutral device NR1" in words for words in texts(drawing.svg))


def test_zone_and_fault_stand_at_the_bus() -> None:
    facts = primary()
    facts["study"] = {
        "zone": [{"zone": "ELM:B33", "nominal_kv": 33.0, "grounding_class": "low_resistance"},
                 {"zone": "ELM:B11", "nominal_kv": 11.0, "grounding_class": None}],
        "zone_bus": [{"zone": f"ELM:{bus}", "substation": "ELM", "bus": bus} for bus in ("B33", "B11")],
        "bus_fault": [{"substation": "ELM", "bus": "B33", "condition": "max", "line_to_ground_ka": 0.4,
                       "healthy_phase_kv": 34.1}],
    }  # fmt: skip
    svg = one_line_svg(facts)
    assert {"Z1", "low-resistance grounded", "Z2", "grounding not known", "L-G 0.4 kA, healthy phases 34.1 kV"} <= set(
        texts(svg)
    )
    assert "declared effectively grounded" in texts(svg)
    assert len(re.findall("ol-u'", svg)) == 1


def test_zones_are_numbered_as_beside_the_drawing(sample: Any) -> None:
    """A zone is called by one number in drawing, tables and phasor pictures of a page."""
    for facts, findings in sample:
        names = {name: f"Z{place}" for place, name in enumerate((z["zone"] for z in facts["study"]["zone"]), 1)}
        of_bus = {row["bus"]: names[row["zone"]] for row in facts["study"]["zone_bus"]
                  if row["substation"] == facts["substation"]}  # fmt: skip
        svg = one_line_svg(facts, findings)
        for bus, name in of_bus.items():
            assert name in [(each.text or "") for each in asset(svg, f"bus:{bus}").iter(f"{NAMESPACE}text")]


def test_words_on_the_mat_are_whole() -> None:
    mat = {"ground_grid": "M1", "measured_on": "2023-06-20", "area": 120.0}
    said = texts(one_line_svg(station("ELM", bus=[BUSES[0]], ground_grid=[mat])))
    assert "ground mat, measured resistance not on record, dated 2023-06-20, 120 m2" in said


def test_the_worst_open_finding_marks_its_asset(finding: dict[str, Any]) -> None:
    facts = primary(neutral_device=[dict(RESISTOR)])
    found = [finding | {"substation": "ELM", "severity": severity} for severity in ("low", "high", "medium")]
    svg = one_line_svg(facts, found)
    assert "ol-m-high" in svg
    assert "ol-m-low" not in svg.partition("</style>")[2]
    assert "3 open findings, worst high" in "".join(asset(svg, "neutral_device:NR1").itertext())
    waived = one_line_svg(facts, [finding | {"substation": "ELM", "status": "waived"}]).partition("</style>")[2]
    assert "ol-m-waived" in waived
    assert "ol-m-high" not in waived


def test_findings_on_what_is_not_drawn_are_listed(finding: dict[str, Any]) -> None:
    found = [finding | {"substation": "ELM", "asset_kind": "bond", "asset": "E7"}]
    assert "bond (not drawn): 1 open finding, worst high: E7" in texts(one_line_svg(primary(), found))


def test_hostile_text_is_text(hostile_texts: dict[str, str]) -> None:
    for text in [*hostile_texts.values(), "long " * 400]:
        facts = station(
            text,
            bus=[{"bus": text, "nominal_voltage": 33.0}],
            transformer=[{"transformer": text, "hv_bus": text, "lv_bus": text, "vector_group": text}],
            line=[{"line": text, "from_bus": text, "to_bus": text + "2", "construction": text}],
            neutral_device=[{"neutral_device": text, "connected_to": [text], "kind": text}],
            ground_relay=[{"ground_relay": text, "function": text, "measures": text}],
            infeed=[{"infeed": text, "bus": text}],
            ground_grid=[{"ground_grid": text}],
            switch=[{"switch": text, "bus_a": text, "bus_b": "other", "normal_state": text}],
        )
        for standalone in (False, True):
            tree = ElementTree.fromstring(one_line_svg(facts, standalone=standalone))
            names = {each.tag.removeprefix(NAMESPACE) for each in tree.iter()}
            assert names <= {"svg", "title", "desc", "style", "g", "path", "rect", "text"}
            shortened = [each for each in tree.iter(f"{NAMESPACE}text") if each.find(f"{NAMESPACE}title") is not None]
            assert all(len(each[0].tail or "") < 80 for each in shortened)


def test_drawings_of_two_stations_share_no_id() -> None:
    pages = [one_line_svg(station(code)) for code in ("A B", "A-B", "a b")] + [one_line_key_svg()]
    ids = [each for svg in pages for each in re.findall(r"\bid='([^']+)'", svg)]
    assert len(ids) == len(set(ids)) == 2 * len(pages)
    for svg in pages:
        named = re.search("aria-labelledby='([^']+)'", svg)
        assert named
        assert set(named[1].split()) == set(re.findall(r"\bid='([^']+)'", svg))


def test_a_screen_reader_hears_what_stands_where() -> None:
    tree = ElementTree.fromstring(one_line_svg(primary(neutral_device=[dict(RESISTOR)])))
    assert tree.get("role") == "img"
    said = tree.findtext(f"{NAMESPACE}desc") or ""
    assert "Bus B33, 33 kV" in said
    assert "Transformer T1 between B33 and B11, 20 MVA, Dyn11, LV neutral: NR1 (resistor 15.9 ohm)" in said


def test_a_file_needs_no_page() -> None:
    for svg in (one_line_svg(primary(), standalone=True), one_line_key_svg(standalone=True)):
        assert "var(" not in svg
        assert "currentColor" not in svg
        assert "@media" not in svg
        picture_bytes = vl_convert.svg_to_png(svg)
        assert picture_bytes.startswith(b"\x89PNG")
        assert len(picture_bytes) > 5000
    assert "not for switching" in one_line_svg(primary(), standalone=True).lower()


def test_dark_and_light_files_differ_in_color_only() -> None:
    light, dark = (one_line_svg(primary(), standalone=True, dark=dark) for dark in (False, True))
    assert light != dark
    assert light.partition("</style>")[2] == dark.partition("</style>")[2]


def test_same_record_same_drawing() -> None:
    for facts in troubled():
        assert one_line_svg(facts) == one_line_svg(facts)


@pytest.mark.parametrize("kind", ["solid", "open", "reactor", "arc_suppression_coil", "surge_arrester", "resistor"])
def test_each_kind_of_device_looks_different(kind: str) -> None:
    def shape(of: str) -> str:
        svg = one_line_svg(primary(neutral_device=[{**RESISTOR, "kind": of}]))
        return "".join(each.get("d", "") for each in asset(svg, "neutral_device:NR1").iter(f"{NAMESPACE}path"))

    others = {"solid", "open", "reactor", "arc_suppression_coil", "surge_arrester", "resistor"} - {kind}
    assert all(shape(kind) != shape(other) for other in others)
