"""No grid of cells, whatever it holds, ends in a traceback: it is read and accounted for, or refused in words."""

import string
import tempfile
from datetime import date, datetime, time
from pathlib import Path

import pandas as pd
from hypothesis import given, settings
from hypothesis import strategies as st
from ingest.conftest import assert_accounted
from round_trips.inventories import headings_of
from round_trips.sample import ROUND_TRIPS
from round_trips.writers import WRITERS, padded

from groundcheck import audit
from groundcheck.errors import GroundcheckError
from groundcheck.ingest import ingest
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.store import Store

HEADINGS = sorted({heading for table in INVENTORY_TABLES for names in headings_of(table).values() for heading in names})
PHRASES = [
    *("T1", "T01", "ELM", "elm ", "B33", "OAK:B33", "Dyn11", "33/11", "400 A / 10 s", "12,470", "1O kV", "03/04/2021"),
    *("#REF!", "N/A", "Total", "Notes:", "continuous", "in service", "removed", "resistor", "zigzag", "ct", "51G"),
    *("=1+1", "<b>", "T1; T2", "none", "4/0 AWG", "2x95", "40 x 5", "-5", "1e400", "NaN", "∞", "½", "٣٣", "10 ± 5 %"),
]
LETTERS = st.characters(exclude_categories=["Cs", "Cc"]) | st.sampled_from(string.printable[:95])
CELLS = st.one_of(
    st.none(),
    st.sampled_from(PHRASES),
    st.sampled_from(HEADINGS),
    st.integers(-5, 2000),
    st.floats(allow_nan=False, allow_infinity=False, width=32),
    st.booleans(),
    st.dates(date(1900, 3, 1), date(2200, 1, 1)).map(lambda day: datetime.combine(day, time(12))),
    st.text(LETTERS, max_size=12),
)


@st.composite
def grids(draw):
    """Some rows of anything, and most often a row of headings of one table among them."""
    width = draw(st.integers(1, 9))
    rows = draw(st.lists(st.lists(CELLS, min_size=width, max_size=width), max_size=9))
    if draw(st.integers(0, 9)):
        names = headings_of(draw(st.sampled_from(list(INVENTORY_TABLES))))
        required = [draw(st.sampled_from(spellings)) for spellings in list(names.values())[: width + 2]]
        rows.insert(draw(st.integers(0, min(3, len(rows)))), required)
    return rows


BOOKS = st.dictionaries(st.sampled_from(["Buses", "Tx", "NERs", "Notes", "Sheet1"]), grids(), min_size=1, max_size=3)


def write(books, kind, folder):
    return WRITERS[kind][0]({name: padded(rows) or [[]] for name, rows in books.items()}, folder)


@given(books=BOOKS, kind=st.sampled_from([kind for kind, (_, fits_junk) in WRITERS.items() if fits_junk]))
@ROUND_TRIPS
def test_any_grid_in_files_is_accounted_for_or_refused(books, kind):
    with tempfile.TemporaryDirectory() as folder, Store() as store:
        try:
            ingest(store, write(books, kind, Path(folder)))
        except GroundcheckError:
            return
        assert_accounted(store)


@given(books=st.dictionaries(st.sampled_from([*INVENTORY_TABLES, "Plant"]), grids(), min_size=1, max_size=3))
@settings(ROUND_TRIPS, max_examples=max(ROUND_TRIPS.max_examples // 4, 1))
def test_any_frames_are_audited_and_reported_or_refused(books):
    frames = {}
    for name, rows in books.items():
        square = padded(rows)
        frames[name] = pd.DataFrame(
            square[1:], columns=pd.Index(square[0] if square else [], dtype=object), dtype=object
        )
    with tempfile.TemporaryDirectory() as folder:
        try:
            made = audit(frames)
        except GroundcheckError:
            return
        assert_accounted(made.store)
        assert all(path.stat().st_size for path in made.write(Path(folder)))
        made.store.close()
