"""A column at once, against its cells one by one; and how long it takes."""

import random
import time

import numpy as np
import pandas as pd
import pytest

from groundcheck.ingest.values import read_cell, read_column
from groundcheck.schema import Column

VOLTAGE = Column("nominal_voltage", "quantity", "", unit="kV", gt=0, le=1200)
REFERENCES = Column("connected_to", "references", "")
SIZE = Column("conductor_size", "size", "", unit="mm2", gt=0)
YES_NO = Column("monitored", "yes_no", "")


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        (["13.8 kV", "x", "", 11, 11.0, True, "13.8 kV", "-1", None, np.float64(3.3), np.int64(5)], VOLTAGE),
        ([13.8, -1.0, float("nan"), float("inf"), 0.0, 1200.0, 1201.0], VOLTAGE),
        (["2x95", "70", '3/8"', "2x95"], SIZE),
        ([True, 1, 1.0, "1", 2, "no"], YES_NO),
        (["T1;T2", ["T1", "T2"], "T1;T2", None], REFERENCES),
        (["10 ± 5 %", "~11", "33 kV *", "10 ± 5 %", ">33"], VOLTAGE),
        ([13.8, None, 33, float("nan"), 0, -1], VOLTAGE),
        ([], VOLTAGE),
        ([pd.NA, pd.NaT, "n/a"], VOLTAGE),
    ],
)
def test_a_column_reads_as_its_cells_do(cells, column):
    read = read_column(cells, column)
    one_by_one = [read_cell(cell, column) for cell in cells]
    values = [None if isinstance(value, float) and value != value else value for value in read.values]
    assert values == [reading.value for reading in one_by_one]
    assert read.problems == {i: reading.problem for i, reading in enumerate(one_by_one) if reading.problem}
    assert read.notes == {i: reading.note for i, reading in enumerate(one_by_one) if reading.note}
    assert read.tolerance == {i: r.tolerance for i, r in enumerate(one_by_one) if r.tolerance is not None}
    assert read.parallel == {i: reading.parallel for i, reading in enumerate(one_by_one) if reading.parallel}


def test_the_unit_of_the_heading_holds_for_the_column():
    assert read_column([6600.0, 11000.0], VOLTAGE, unit="V").values == [6.6, 11.0]
    assert read_column([6600.0, "11 kV"], VOLTAGE, unit="V").values == [6.6, 11.0]


def test_lists_are_not_shared_between_rows():
    values = read_column(["T1;T2", "T1;T2"], REFERENCES).values
    values[0].append("T3")
    assert values[1] == ["T1", "T2"]


def test_notes_are_kept_by_row():
    column = Column("vector_group", "vector_group", "")
    assert list(read_column(["Dyn11", "dYN11"], column).notes) == [1]


TEXTS = [f"{number / 100:.2f}{unit}" for number in range(1000, 11_000) for unit in ("", " kV")]
FLOATS = [random.Random(1).uniform(1, 500) for _ in range(100_000)]


# Each cell its own text, as a reader makes it; the limits are thrice what it takes on one slow core.
@pytest.mark.parametrize(
    ("cells", "limit"),
    [
        (FLOATS, 0.05),
        ([None if index % 3 else number for index, number in enumerate(FLOATS)], 0.05),
        (["".join(list(text)) for text in random.Random(1).choices(TEXTS, k=100_000)], 0.2),
    ],
    ids=["floats", "floats and blanks", "texts of 20,000 kinds"],
)
def test_a_hundred_thousand_cells_take_no_time_to_speak_of(cells, limit):
    read_column(TEXTS[:2], VOLTAGE)  # the registry of units is opened once a process
    assert min(_seconds(cells) for _ in range(5)) < limit


@pytest.mark.parametrize("unit", ["V", "kV", "mi"])
def test_numbers_at_once_are_converted_as_one_by_one(unit):
    column = Column("length", "quantity", "", unit="km", ge=0) if unit == "mi" else VOLTAGE
    rng = random.Random(2)
    for cells in (
        [float(rng.randrange(1, 500_000)) for _ in range(500)],
        [round(rng.uniform(0, 2000), 3) for _ in range(500)],
        [rng.uniform(0, 2000) for _ in range(500)],
        [1e300, 5e-324, 10**400, 3, None],
    ):
        read = read_column(cells, column, unit=unit)
        one_by_one = [read_cell(cell, column, unit=unit) for cell in cells]
        assert read.values == [reading.value for reading in one_by_one]
        assert read.problems == {i: reading.problem for i, reading in enumerate(one_by_one) if reading.problem}


def _seconds(cells):
    start = time.process_time()
    read_column(cells, VOLTAGE)
    return time.process_time() - start
