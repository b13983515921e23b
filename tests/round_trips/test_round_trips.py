"""Any inventory, written to a file of any kind as registers are, reads back to the same inventory."""

import math
import tempfile
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st
from ingest.conftest import assert_accounted
from round_trips.inventories import inventories
from round_trips.sample import ROUND_TRIPS
from round_trips.writers import JUNK, NO_JUNK, WRITERS, padded, sheet_names, typed_frames, with_junk

from groundcheck.ingest import ingest
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.store import Store

MEETING = [["Meeting of 3 May"], ["Present", "M. Reed, A. Moss"], [], ["Next meeting in June."]]


def assert_reads_back(store, sheets):
    """The store holds exactly the records of the sheets, and lists nothing."""
    assert_accounted(store)
    for table in ("quarantine", "unread_cell", "question"):
        assert store.sql(f"FROM raw.{table}").fetchall() == []
    for sheet in sheets:
        model = INVENTORY_TABLES[sheet.table]
        names = list(model.columns())
        columns = ", ".join(f'"{name}"' for name in names)
        query = f'SELECT {columns} FROM inventory."{sheet.table}" WHERE inferred_from IS NULL'
        rows = [dict(zip(names, row, strict=True)) for row in store.sql(query).fetchall()]
        found = {tuple(row[name] for name in model.key_columns()): row for row in rows}
        expected = sheet.records()
        assert found.keys() == expected.keys()
        for key, record in expected.items():
            for name in names:
                assert_same(found[key][name], record.get(name), f"{sheet.table} {key} {name}")


def assert_same(found, expected, where):
    if isinstance(expected, float):
        assert found is not None, where
        assert math.isclose(found, expected, rel_tol=1e-9) or found == expected, where
    else:
        assert found == expected, where


@given(sheets=inventories(), kind=st.sampled_from(list(WRITERS)), junk=JUNK, meeting=st.booleans())
@ROUND_TRIPS
def test_an_inventory_in_files_reads_back_to_the_same(sheets, kind, junk, meeting):
    write, fits_junk = WRITERS[kind]
    junk = junk if fits_junk else NO_JUNK
    names = sheet_names(sheets)
    grids = {name: with_junk(sheet.grid(), junk, name) for name, sheet in zip(names, sheets, strict=True)}
    if meeting and fits_junk:
        grids["Meeting"] = padded(MEETING)
    with tempfile.TemporaryDirectory() as folder, Store() as store:
        ingest(store, write(grids, Path(folder)))
        assert_reads_back(store, sheets)


@given(sheets=inventories())
@ROUND_TRIPS
def test_an_inventory_in_frames_reads_back_to_the_same(sheets):
    frames = typed_frames({sheet.table: sheet.grid() for sheet in sheets})
    with Store() as store:
        ingest(store, frames)
        assert_reads_back(store, sheets)
