"""The unit in a heading, and the heading without it."""

import pytest

from groundcheck.ingest.values import heading_unit


@pytest.mark.parametrize(
    ("heading", "text", "unit"),
    [
        ("Voltage (kV)", "voltage", "kV"),
        ("Voltage [kV L-L]", "voltage", "kV"),
        ("Voltage (kV) HV", "voltage hv", "kV"),
        ("Voltage in kV", "voltage", "kV"),
        ("NER, ohms", "ner", "ohm"),
        ("Rating MVA", "rating", "MVA"),
        ("Rating MW", "rating", "MW"),
        ("Un [V]", "un", "V"),
        ("Z %", "z", "%"),
        ("%Z", "z", "%"),
        ("clearing time ms", "clearing time", "ms"),
        ("Clearing time (cycles)", "clearing time", "cycles"),
        ("rated time, s", "rated time", "s"),
        ("Duration(s)", "duration", "s"),
        ("Resistance (Ω)", "resistance", "ohm"),
        ("Resistance (\u2126)", "resistance", "ohm"),
        ("R1 ohm/km", "r1", "ohm/km"),
        ("R1 (ohm per km)", "r1", "ohm/km"),
        ("c0 nF/km", "c0", "nF/km"),
        ("Soil resistivity (Ω·m)", "soil resistivity", "ohm m"),
        ("Size (AWG)", "size", "AWG"),
        ("CSA mm²", "csa", "mm2"),
        ("Length / m", "length", "m"),
        ("rated_current_a", "rated current", "A"),
        ("Rated\ncurrent (A)", "rated current", "A"),
        ("kV", "kv", "kV"),
        ("x (A)", "x", "A"),
    ],
)
def test_the_unit_is_split_off(heading, text, unit):
    assert heading_unit(heading) == (text, unit)


@pytest.mark.parametrize(
    ("heading", "text"),
    [
        *(
            ("NER", "ner"),
            ("r", "r"),
            ("A", "a"),
            ("Number", "number"),
            ("X/R", "x r"),
            ("Station Name:", "station name"),
        ),
        *(("Bus A", "bus a"), ("bus_a", "bus a"), ("Bus (A)", "bus a"), ("Phase A", "phase a"), ("Earth(s)", "earths")),
        *(("Fault level min", "fault level min"), ("Fault level (min)", "fault level min"), ("CT sec", "ct sec")),
        *(
            ("CT (sec)", "ct sec"),
            ("Remarks (2021)", "remarks 2021"),
            ("", ""),
            ("Method of Earthing", "method of earthing"),
        ),
    ],
)
def test_letters_that_are_no_unit_stay(heading, text):
    assert heading_unit(heading) == (text, None)


@pytest.mark.parametrize(
    ("heading", "text", "unit"),
    [
        ("Thickness of surface layer, cm", "thickness of surface layer", "cm"),
        ("Route, mi", "route", "mi"),
        ("Fault level, min", "fault level min", None),
        ("Bus section, A", "bus section a", None),
    ],
)
def test_a_short_unit_after_a_comma_counts_where_it_means_nothing_else(heading, text, unit):
    assert heading_unit(heading) == (text, unit)
