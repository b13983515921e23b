"""A sheet gets the name of its district as far as a workbook allows it."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.report.sheet_names import distinct_sheet_names


# Microsoft, 'Rename a worksheet' (recalled): 31 characters, none of / ? * [ ] : or a backslash, no apostrophe at an
# end, and not the name History.
@pytest.mark.parametrize(
    ("wanted", "name"),
    [
        ("North", "North"),
        ("North/East: [old]", "North_East_ _old_"),
        ("'Quoted'", "Quoted"),
        ("x" * 40, "x" * 31),
        ("History", "History (2)"),
        ("  ", "Sheet"),
        ("a\x00b", "ab"),
    ],
)
def test_name_is_one_that_a_workbook_takes(wanted: str, name: str) -> None:
    assert distinct_sheet_names([wanted]) == [name]


def test_names_that_come_out_alike_are_numbered() -> None:
    long = "District of the northern grid supply points"
    assert distinct_sheet_names(["North", "NORTH", f"{long} A", f"{long} B"], taken=["Questions"]) == [
        "North",
        "NORTH (2)",
        "District of the northern grid s",
        "District of the northern gr (2)",
    ]
    assert distinct_sheet_names(["questions"], taken=["Questions"]) == ["questions (2)"]


@given(st.lists(st.text(max_size=50), max_size=6))
def test_names_of_any_text_are_allowed_and_distinct(wanted: list[str]) -> None:
    names = distinct_sheet_names(wanted)
    assert len({name.casefold() for name in names}) == len(wanted)
    for name in names:
        assert 0 < len(name) <= 31
        assert not re.search(r"[\[\]:*?/\\]", name)
        assert not name.startswith("'")
        assert not name.endswith("'")
