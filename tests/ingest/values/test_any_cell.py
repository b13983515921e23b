"""Whatever a cell holds, it is read, blank, or a problem that is named."""

import datetime as dt
from decimal import Decimal

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.ingest.values import heading_unit, read_cell, read_column
from groundcheck.schema import INVENTORY_TABLES

# One column for each kind, unit and vocabulary of the schema.
COLUMNS = {
    (column.kind, column.unit, str(column.accepted)): column
    for table in INVENTORY_TABLES.values()
    for column in table.columns().values()
}.values()
REASONS = {"unreadable", "outside_limits", "unknown_word", "ambiguous", "date_order"}

ODD_CELLS = [
    *("\x00", "#", "()", "(2)", "x2", "2x", "x x x", "1e", "0/0", "½", "²", "٣", "𝟏𝟑", "∞", "%", "YN", "(kV", "+"),
    *("x" * 40_000, "1" * 40_000, " ," * 20_000, "(" * 40_000, "9/" * 20_000, "\n" * 40_000, "a " * 20_000),
    *(True, 0, 10**30, -1e308, float("inf"), Decimal("1.5"), Decimal("NaN"), 1 + 2j, b"x", (), [1, 2], {}),
    *(dt.time(1), dt.timedelta(1), dt.date(1, 1, 1), pd.Timestamp(2021, 1, 1), pd.Timedelta(1), pd.NaT, pd.NA),
    *(np.bool_(True), np.float32(1.5), np.array([1, 2]), np.datetime64("2021-01-01", "ns"), np.datetime64("NaT")),
]


@pytest.mark.parametrize("cell", ODD_CELLS, ids=lambda cell: f"{type(cell).__name__}-{str(cell)[:5]!r}")
def test_an_odd_cell_stops_nothing(cell):
    for column in COLUMNS:
        value, problem, *_ = read_cell(cell, column)
        assert value is None or problem is None
        assert problem is None or (problem.reason in REASONS and problem.expected)
        assert read_column([cell], column).values == [value]


@given(text=st.text(max_size=40), decimal_comma=st.booleans())
def test_any_text_is_a_value_or_blank_or_a_problem(text, decimal_comma):
    for column in COLUMNS:
        value, problem, *_ = read_cell(text, column, decimal_comma=decimal_comma)
        assert value is None or problem is None
    heading_unit(text)


def test_a_timestamp_of_any_library_is_its_day_and_never_a_number():
    day = next(column for column in COLUMNS if column.kind == "date")
    volts = next(column for column in COLUMNS if column.unit == "kV")
    for cell in (np.datetime64("2021-04-03", "ns"), np.datetime64("2021-04-03"), pd.Timestamp(2021, 4, 3)):
        assert read_cell(cell, day).value == dt.date(2021, 4, 3)
        assert read_cell(cell, volts).problem.reason == "unreadable"
