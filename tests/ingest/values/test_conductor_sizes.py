"""Conductor sizes as areas."""

import pytest

from groundcheck.ingest.values import read_cell
from groundcheck.ingest.values.size import awg_area_mm2
from groundcheck.schema import Column

SIZE = Column("conductor_size", "size", "", unit="mm2", gt=0)
A_SIZE = "a conductor size: an area in mm2, AWG or kcmil, or the two sides of a bar in mm, above 0"


# ASTM B258, areas of solid round conductors, printed to 0.001 mm2 (2, 1/0, 4/0) and to the same elsewhere (recalled).
@pytest.mark.parametrize(
    ("text", "area"),
    [
        *((text, 33.631) for text in ("2 AWG", "#2", "#2 AWG", "No. 2 AWG", "AWG 2", "2awg")),
        *((text, 53.475) for text in ("1/0", "1/0 AWG", "#1/0", "0 AWG", "1/0 awg bare copper")),
        *((text, 107.219) for text in ("4/0", "4/0 AWG", "0000", "4 / 0")),
        *((text, 21.151) for text in ("#4", "#4 AWG", "4 AWG")),
        ("3/0", 85.029),
        ("2/0", 67.431),
        ("6 AWG", 13.302),
        ("12 AWG", 3.309),
    ],
)
def test_gauges_have_the_areas_of_the_standard(text, area):
    assert read_cell(text, SIZE).value == pytest.approx(area, abs=0.0006)


def test_twenty_gauges_finer_is_a_hundredth_of_the_area_within_two_per_cent():
    # Common practice: ten gauges are about a factor of ten.
    assert awg_area_mm2(0) / awg_area_mm2(20) == pytest.approx(100, rel=0.04)


# 1 kcmil is the area of a circle of 31.6228 mils: pi/4 x 1000 x (0.0254 mm)^2 = 0.506707 mm2, by definition.
@pytest.mark.parametrize(
    ("text", "area"),
    [("250 MCM", 126.677), ("250 kcmil", 126.677), ("250kcmil Cu", 126.677), ("1,000 kcmil", 506.707)],
)
def test_circular_mils(text, area):
    assert read_cell(text, SIZE).value == pytest.approx(area, abs=0.0006)


@pytest.mark.parametrize(
    ("text", "area"),
    [
        *((text, 70) for text in ("70", "70 mm2", "70 mm²", "70 sq mm", "70 sqmm", "70mm^2", 70, 70.0, "70 mm2 Cu")),
        *((text, 2.5) for text in ("2.5", "2,5 mm²", 2.5)),
        ("4", 4),
        *((text, 200) for text in ("40x5", "40 x 5 mm", "40×5", "40 x 5 GI flat", "40mm x 5mm", "40x5 mm2")),
        ("25 x 3", 75),
        ("3 x 50 mm", 150),
    ],
)
def test_areas_and_bars(text, area):
    assert read_cell(text, SIZE) == (area, None, None, None, None)


@pytest.mark.parametrize(
    ("text", "area", "parallel"),
    [
        ("2 x 95 mm2", 95, 2),
        ("2x95", 95, 2),
        ("2 x 40 x 5", 200, 2),
        ("3 x 2.5 mm2", 2.5, 3),
        ("2 x 4/0 AWG", 107.219, 2),
        ("(2) 4/0", 107.219, 2),
        ("2 no. 70 mm2", 70, 2),
    ],
)
def test_parallel_conductors_give_the_area_of_one(text, area, parallel):
    reading = read_cell(text, SIZE)
    assert reading.value == pytest.approx(area, abs=0.001)
    assert reading.parallel == parallel


def test_a_bare_number_takes_the_unit_of_the_heading():
    assert read_cell("2", SIZE, unit="AWG").value == pytest.approx(33.631, abs=0.0005)
    assert read_cell(250.0, SIZE, unit="MCM").value == pytest.approx(126.677, abs=0.0005)
    assert read_cell("2", SIZE, unit="mm2").value == 2
    assert read_cell("2x95", SIZE, unit="mm2")[::3] == (95, 2)


def test_a_small_number_that_is_a_gauge_and_no_metric_size_is_asked_about():
    assert read_cell("2", SIZE).problem == ("ambiguous", "either 2 mm2 or 2 AWG: write the unit")


@pytest.mark.parametrize("text", ['3/8"', "1/2 in", "3/8 inch strap"])
def test_an_inch_size_is_asked_about(text):
    expected = A_SIZE + "; for an inch size say whether it is a rod or a strap, and its sides in mm"
    assert read_cell(text, SIZE).problem == ("unreadable", expected)


@pytest.mark.parametrize("text", ["16 mm", "thick", "45 AWG", "5/0", "3/8", "1x2x3x4", "400 x", "x"])
def test_what_gives_no_area_is_unreadable(text):
    assert read_cell(text, SIZE).problem == ("unreadable", A_SIZE)


@pytest.mark.parametrize("text", ["16 mm dia", "Ø16", "16 mm dia.", "5/8 rod", "16 mm round"])
def test_a_diameter_is_asked_about(text):
    assert read_cell(text, SIZE).problem == ("unreadable", A_SIZE + "; for a diameter give the area")


@pytest.mark.parametrize("text", ["-70", -1.0])
def test_a_conductor_has_an_area(text):
    assert read_cell(text, SIZE).problem == ("outside_limits", A_SIZE)


@pytest.mark.parametrize("text", ["0", "0 mm2", 0, 0.0])
def test_a_conductor_without_area_is_suspect(text):
    assert read_cell(text, SIZE).problem == ("outside_limits", A_SIZE + "; a zero here is suspect")


def test_blank_sizes():
    assert [read_cell(text, SIZE) for text in ("", "-", "n/a", "none", None)] == [(None, None, None, None, None)] * 5


# Sum of the strands: DIYnot wiki, "Old imperial cable sizes", 0.029 to 0.064 in. [mm2]
@pytest.mark.parametrize(
    ("text", "area"),
    [
        *(("3/.029", 1.278), ("3/.036", 1.970), ("7/.029", 2.983), ("7/.036", 4.597), ("7/.044", 6.867)),
        *(("7/.052", 9.591), ("7/.064", 14.528), ("7/0.064", 14.528)),
    ],
)
def test_imperial_strands_are_in_inches_and_noted(text, area):
    reading = read_cell(text, SIZE)
    assert reading.value == pytest.approx(area, rel=1e-3)  # the table rounds each strand to three digits
    assert reading.note == "the diameter of the strands is read in inches"


# By geometry: strands x pi/4 x diameter squared.
@pytest.mark.parametrize(
    ("text", "area"),
    [
        *((text, 58.070) for text in ("7/3.25", "7/3.25 mm", "7/3.25mm Cu", "7 / 3.25")),
        ("19/2.14", 68.339),
        ("7/4 mm", 87.965),
        ("37/2.5", 181.623),
    ],
)
def test_metric_strands(text, area):
    assert read_cell(text, SIZE)[:3] == (pytest.approx(area, abs=0.001), None, None)


@pytest.mark.parametrize("text", ["7/16", "8/3.25", "7/3", "7/12.5", "4/.064"])
def test_what_is_no_stranding(text):
    assert read_cell(text, SIZE).problem == ("unreadable", A_SIZE)


@pytest.mark.parametrize("text", ["2x(40x5)", "2 x (40 x 5 mm)", "(2) 40x5", "2 x 40x5"])
def test_bars_in_parallel(text):
    assert read_cell(text, SIZE) == (200, None, None, 2, None)


@pytest.mark.parametrize("text", ["95+50", "2x(2x95)", "70 mm2 ± 5 %", "1x95 + 1x50"])
def test_what_is_not_one_size(text):
    assert read_cell(text, SIZE).problem.reason == "unreadable"
