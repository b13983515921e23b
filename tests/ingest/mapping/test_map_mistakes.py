"""What a column map gets wrong stops the run with its place, what was found, and the nearest right word."""

import re

import pytest

from groundcheck.errors import ColumnMapError
from groundcheck.ingest.mapping.map_file import read_column_map

ENTRY = "map.toml, sheet entry 1"


def refused(tmp_path, text):
    path = tmp_path / "map.toml"
    path.write_text(text)
    with pytest.raises(ColumnMapError) as caught:
        read_column_map(path)
    return str(caught.value)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "precedance = []",
            "map.toml: no entry `precedance`; nearest is `precedence`; what concerns one sheet stands under [[sheet]]",
        ),
        ("precedence = 3", "map.toml, precedence: expected a text or a list of texts, found 3"),
        ("[sheet]\nskip = true", "map.toml: `sheet` is a single table; write [[sheet]] with two brackets"),
        (
            "[same_station]\nAsh = 3",
            'map.toml, same_station: "Ash" needs the name that it stands for, in quotes, found 3',
        ),
        (
            '[same_station]\n"Ash Lane" = "A"\n"ASHLANE" = "B"',
            'map.toml, same_station: "ASHLANE" stands for both "A" and "B"; keep one',
        ),
        ('[same_tag]\nNER01 = "NER1"', 'map.toml, same_tag: "NER01" names no station; write "STATION:TAG"'),
    ],
)
def test_a_mistake_at_the_top_is_named(tmp_path, text, message):
    assert refused(tmp_path, text) == message


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('match = "x"', "says nothing of the sheet; add `table`, or delete the entry"),
        ('units = { X = "kV" }', "names units but no `table`; add the canonical table that the sheet feeds"),
        ('skip = true\ntable = "bus"', "skips the sheet and says `table` of it; leave one of the two out"),
        (
            'table = "bus"\nkinds = { column = "K" }',
            "names both `table` and `kinds`; the words of `kinds` name the tables",
        ),
    ],
)
def test_keys_that_say_nothing_together_are_named(tmp_path, text, message):
    assert refused(tmp_path, f"[[sheet]]\n{text}") == f"{ENTRY}: {message}"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            'kinds = { words = { A = "bus" } }',
            "kinds: needs `column`, the heading of the column that says what each row is",
        ),
        ('kinds = { column = "K", word = { A = "bus" } }', "kinds: no key `word`; nearest is `words`"),
        ('kinds = { column = "K", words = { A = "trafo" } }', "kinds, A: no table `trafo`; nearest is `transformer`"),
        ("day_first = 1", "day_first: expected true or false, found 1"),
        ('decimal_comma = "yes"', "decimal_comma: expected true or false, found 'yes'"),
        ("frequency = 0", "frequency: expected a frequency in Hz above 0, found 0"),
        ("heading_row = 0", "heading_row: expected the number of a row of the sheet, from 1, found 0"),
        ('turned = "x"', "turned: expected true or false, found 'x'"),
        (
            'table = "bus"\ncarry_down = ["substatoin"]',
            "carry_down: table `bus` has no field `substatoin`; nearest is `substation`",
        ),
        ('table = "bus"\nfields.bus = { part = 0, of = "X" }', "bus: expected the number of the part, 1 to 4, found 0"),
        (
            'table = "transformer"\nwords.status = { gone = "remove" }',
            'words, status, "gone": no word "remove" for status; nearest is "removed"',
        ),
        (
            'table = "transformer"\nwords.vector_group = { Std = "Dny" }',
            "words, vector_group, \"Std\": 'Dny' cannot be read; expected a vector group of IEC 60076-1, such as YNd11",
        ),
        ('table = "bus"\nconstants.frequency = "often"', "frequency: 'often' cannot be read; expected "),
        (
            'table = "bus"\nconstants.distrct = "N"',
            "constants: table `bus` has no field `distrct`; nearest is `district`",
        ),
        ('table = "bus"\nfields = "X"', "fields: expected { key = value }, found 'X'"),
        ('kinds = { column = "K" }\nfields.hv_bsu = "X"', "fields: no table has a field `hv_bsu`; nearest is `hv_bus`"),
    ],
)
def test_a_value_that_cannot_be_is_named_with_its_key(tmp_path, text, message):
    found = refused(tmp_path, f"[[sheet]]\n{text}")
    assert re.match(re.escape(f"{ENTRY}, {message}"), found), found


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            '[[sheet]]\nmatch = "nort.csv"\nskip = true',
            f"{ENTRY}: 'nort.csv' matches no sheet; nearest is 'north.csv::north'",
        ),
        (
            '[[sheet]]\nmatch = "nort.csv"\nday_first = true',
            f"{ENTRY}: 'nort.csv' matches no sheet; nearest is 'north.csv::north'",
        ),
        (
            '[[sheet]]\nheadings = ["Busses"]\ntable = "bus"',
            f"{ENTRY}: north.csv::north has no heading 'Busses'; nearest is 'Bus'",
        ),
        (
            '[[sheet]]\ntable = "bus"\nfields.bus = { heading = "Bus", column = "Z" }',
            f"{ENTRY}: north.csv::north has no heading 'bus, column Z'; nearest is 'Bus'",
        ),
        ('precedence = ["south*"]', "map.toml, precedence: 'south*' matches no file; nearest is 'north.csv'"),
    ],
)
def test_what_fits_no_sheet_is_named_with_the_nearest(read, csv_file, tmp_path, text, message):
    path = tmp_path / "map.toml"
    path.write_text(text)
    with pytest.raises(ColumnMapError) as caught:
        read(csv_file([["Station", "Bus", "Nominal kV"], ["ELM", "B1", 33]]), columns=path)
    assert str(caught.value) == message
