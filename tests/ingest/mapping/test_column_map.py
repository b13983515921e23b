"""A column map decides; what it gets wrong is named with the nearest right word."""

import pytest

from groundcheck.errors import ColumnMapError

REGISTER = [
    ["Owner", "Point A", "kV A", "Point B", "kV B", "Size", "Group", "R", "X", "Zero", "Neutral", "State"],
    ["N", "ELMW3A", 33, "ELMW5A", 11, 10, "Dyn11", 10, 100, 0, "liquid", "in use"],
    ["N", "OAKS3A", 33, "ELMW5B", 11, 20, "Dyn11", 0, 60, 50, "none seen", "in use"],
]
MAP = """
[[sheet]]
match = "north.csv"
table = "transformer"
bus_station = "^(.{4})"
impedance_base = 100
fields.transformer = { join = ["Point A", "Point B"], with = " / " }
fields.substation = { from = "Point B", pattern = "^(.{4})" }
fields.hv_bus = "Point A"
fields.lv_bus = "Point B"
fields.hv_voltage = "kV A"
fields.lv_voltage = "kV B"
fields.vector_group = "Group"
fields.impedance = { r = "R", x = "X" }
fields.z0 = "Zero"
fields.lv_neutral = "Neutral"
words.lv_neutral = { liquid = "resistor" }
constants.district = "North"
"""


@pytest.fixture
def mapped(read, csv_file, tmp_path):
    path = tmp_path / "map.toml"
    path.write_text(MAP)
    return read(csv_file(REGISTER), columns=path)


def test_fields_are_joined_and_taken_from_parts_of_names(mapped):
    assert mapped.sql(
        "SELECT substation, transformer, hv_bus, lv_bus FROM inventory.transformer ORDER BY 2"
    ).fetchall() == [
        ("ELMW", "ELMW3A / ELMW5A", "ELMW3A", "ELMW5A"),
        ("ELMW", "OAKS3A / ELMW5B", "OAKS:OAKS3A", "ELMW5B"),
    ]


def test_a_bus_of_another_code_stands_in_another_station(mapped):
    assert mapped.sql("SELECT substation, bus FROM inventory.bus WHERE nominal_voltage = 33 ORDER BY 1").fetchall() == [
        ("ELMW", "ELMW3A"),
        ("OAKS", "OAKS3A"),
    ]


def test_per_cent_on_a_common_base_becomes_per_cent_on_own_rating(mapped):
    # Z% on rating S is Z% on base B times S / B: the definition of per unit.
    first, second = mapped.sql(
        "SELECT impedance, x_over_r, z0 FROM inventory.transformer ORDER BY rated_power"
    ).fetchall()
    assert first[0] == pytest.approx((100**2 + 10**2) ** 0.5 * 10 / 100)
    assert first[1:] == (10.0, None)
    assert second == (pytest.approx(60 * 20 / 100), None, pytest.approx(50 * 20 / 100))


def test_zeros_that_cannot_be_are_blank_and_named_with_their_cells(mapped):
    assert mapped.sql("SELECT cell, field, found FROM raw.unread_cell ORDER BY 1").fetchall() == [
        ("H3", "x_over_r", "0"),
        ("J2", "z0", "0"),
        ("K3", "lv_neutral", "none seen"),
    ]


def test_words_and_constants_of_the_map_are_used(mapped):
    assert mapped.sql("SELECT lv_neutral FROM inventory.transformer ORDER BY rated_power").fetchall() == [
        ("resistor",),
        (None,),
    ]
    assert set(mapped.sql("SELECT substation, district FROM inventory.substation").fetchall()) == {
        ("ELMW", "North"),
        ("OAKS", None),
    }


def test_the_map_is_listed_among_the_files(mapped):
    assert mapped.sql("SELECT file FROM raw.file WHERE reader = 'column map'").fetchall() == [("map.toml",)]


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ('fields.impedence = "X"', "table `transformer` has no field `impedence`; nearest is `impedance`"),
        ('fields.impedance = "XX"', "north.csv::north has no heading 'XX'; nearest is 'X'"),
        ('tabel = "transformer"', "no key `tabel`; nearest is `table`"),
        ("impedance_base = -1", "expected a power in MVA above 0, found -1"),
        ('bus_station = "^.{4}"', "needs one group in parentheses"),
        ('units = { Size = "MVAA" }', "'MVAA' is not a unit that is known"),
        ('fields.impedance = { y = "X" }', "is not a source of a field"),
    ],
)
def test_what_a_map_gets_wrong_is_named(read, csv_file, tmp_path, line, message):
    path = tmp_path / "map.toml"
    path.write_text(f'[[sheet]]\nmatch = "north.csv"\ntable = "transformer"\n{line}\n')
    with pytest.raises(ColumnMapError) as caught:
        read(csv_file(REGISTER), columns=path)
    assert message in str(caught.value)
    assert str(caught.value).startswith("map.toml, sheet entry 1")


def test_an_unknown_table_names_the_nearest(read, csv_file, tmp_path):
    path = tmp_path / "map.toml"
    path.write_text('[[sheet]]\nmatch = "north.csv"\ntable = "transfomer"\n')
    with pytest.raises(ColumnMapError, match="no table `transfomer`; nearest is `transformer`"):
        read(csv_file(REGISTER), columns=path)


def test_a_sheet_that_nobody_has_is_named(read, csv_file, tmp_path):
    path = tmp_path / "map.toml"
    path.write_text('[[sheet]]\nmatch = "south.csv"\ntable = "bus"\n')
    rows = [["Station", "Bus", "kV"], ["ELM", "B1", 33]]
    with pytest.raises(
        ColumnMapError, match=r"'south.csv' matches no sheet that holds a table; nearest is 'north.csv::north'"
    ):
        read(csv_file(rows), columns=path)
