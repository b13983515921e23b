"""Frames handed in by a caller are read as sheets are, whatever types their cells have."""

import io
from datetime import date, datetime, timedelta
from decimal import Decimal

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from groundcheck.ingest.readers.frames import read_frames
from groundcheck.ingest.readers.plain import plain


@pytest.mark.parametrize(
    ("cell", "wanted"),
    [
        (pd.Timestamp("2021-04-03 12:30"), datetime(2021, 4, 3, 12, 30)),
        (np.datetime64("2021-04-03"), datetime(2021, 4, 3)),
        (np.timedelta64(90, "s"), timedelta(seconds=90)),
        (date(2021, 4, 3), date(2021, 4, 3)),
        (Decimal("13.8"), 13.8),
        (Decimal("13.80"), 13.8),
        (Decimal("0.1234567890123456789"), "0.1234567890123456789"),
        (Decimal("NaN"), None),
        (np.float32(0.5), 0.5),
        (np.int64(33), 33),
        (np.bool_(True), True),
        (np.str_("ELM"), "ELM"),
        (pd.NA, None),
        (pd.NaT, None),
        (np.datetime64("NaT"), None),
        (float("nan"), None),
        ("", None),
        (True, True),
        (["T1", np.int64(2), None], ["T1", 2, None]),
        (np.array([1.5, np.nan]), [1.5, None]),
        (("T1", "T2"), ["T1", "T2"]),
        (b"ELM", "ELM"),
        (pd.Interval(0, 1), "(0, 1]"),
    ],
)
def test_a_cell_of_a_library_becomes_a_plain_value(cell, wanted):
    found = plain(cell)
    assert found == wanted
    assert type(found) is type(wanted)


@pytest.mark.parametrize(
    "column",
    [
        pd.Categorical(["ELM", None]),
        pd.array(["ELM", pd.NA], dtype="string"),
        pd.Series(["ELM", None], dtype="string[pyarrow]"),
    ],
)
def test_missing_values_of_every_kind_of_column_are_blank(column):
    [sheet] = read_frames({"bus": pd.DataFrame({"substation": column})}).sheets
    assert sheet.rows == [["substation"], ["ELM"], [None]]


def test_whole_numbers_with_gaps_stay_whole():
    [sheet] = read_frames({"bus": pd.DataFrame({"customers": pd.array([12, None], dtype="Int64")})}).sheets
    assert [(type(row[0]), row[0]) for row in sheet.rows[1:]] == [(int, 12), (type(None), None)]


def test_a_column_of_several_levels_is_joined_and_names_may_repeat():
    columns = pd.MultiIndex.from_tuples([("Rating", "kV"), ("Rating", "kV"), ("Station", "")])
    [sheet] = read_frames({"any": pd.DataFrame([[33, 11, "ELM"]], columns=columns, index=["x"])}).sheets
    assert sheet.rows == [["Rating kV", "Rating kV", "Station"], [33, 11, "ELM"]]


def test_a_frame_of_a_canonical_name_is_that_table_and_any_other_a_sheet():
    frame = pd.DataFrame({"Station": ["ELM"], "Bus": ["B1"], "Nominal kV": [33.0]})
    canonical, other = read_frames({"bus": frame, "North buses": frame}).sheets
    assert (canonical.table, other.table, other.name) == ("bus", None, "North buses")


def test_a_frame_without_columns_or_rows_is_an_empty_sheet():
    empty, headed = read_frames({"a": pd.DataFrame(), "b": pd.DataFrame({"Station": []})}).sheets
    assert (empty.rows, headed.rows) == ([[]], [["Station"]])


def test_the_hash_of_frames_follows_their_cells():
    hashes = {read_frames({"bus": pd.DataFrame({"bus": [value]})}).sha256 for value in ("B1", "B1", "B2")}
    assert len(hashes) == 2


def test_a_parquet_file_gives_plain_cells_lists_and_columns_of_one_name(read_one):
    columns = {
        "when": pa.array([pd.Timestamp("2021-04-03 12:30:00.000000001"), None], pa.timestamp("ns")),
        "kV": pa.array([Decimal("13.80"), None], pa.decimal128(5, 2)),
        "tags": pa.array([["T1", "T2"], None]),
        "station": pa.array(["ELM", "ASH"]).dictionary_encode(),
        "in_service": pa.array([True, None]),
    }
    table = pa.table([*columns.values(), pa.array([1, 2])], names=[*columns, "kV"])
    stream = io.BytesIO()
    pq.write_table(table, stream)
    source = read_one(stream.getvalue(), "north.parquet")
    assert (source.reader, source.sheets[0].name) == ("parquet file", "north")
    assert source.sheets[0].rows == [
        ["when", "kV", "tags", "station", "in_service", "kV"],
        [datetime(2021, 4, 3, 12, 30), 13.8, ["T1", "T2"], "ELM", True, 1],
        [None, None, None, "ASH", None, 2],
    ]


def test_a_parquet_file_of_more_cells_than_are_read_is_refused(read_one):
    stream = io.BytesIO()
    pq.write_table(pa.table({"a": pa.nulls(60_000_000)}), stream)
    assert len(stream.getvalue()) < 200_000
    assert read_one(stream.getvalue(), "a.parquet").problem == (
        "holds 60000000 cells, more than the 50000000 that are read: split it"
    )
