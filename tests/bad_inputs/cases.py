"""Sheets of two sound rows with a bad one between them, and the proof that only the bad one is listed."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import openpyxl
from ingest.conftest import assert_accounted

from groundcheck.ingest import ingest
from groundcheck.ingest.sheets import cell_text
from groundcheck.store import Store

# A heading and a sound cell for each column of a sheet about one table.
SOUND: dict[str, dict[str, Any]] = {
    "bus": {"Station": "ELM", "Bus": "B1", "Nominal kV": 33, "Highest kV": 36},
    "transformer": {
        "Station": "ELM",
        "Transformer": "T1",
        "HV bus": "B33",
        "LV bus": "B11",
        "Rating (MVA)": 12,
        "HV kV": 33,
        "LV kV": 11,
        "Vector group": "Dyn11",
        "Z %": 10.5,
        "X/R": 18,
    },
    "neutral_device": {
        "Station": "ELM",
        "NER": "R1",
        "Neutral of": "T1",
        "Kind": "resistor",
        "Resistance (ohm)": 19.9,
        "Rated current (A)": 400,
        "Rated time (s)": 10,
        "Measured on": "2021-04-03",
        "Monitored": "yes",
    },
    "infeed": {"Station": "ELM", "Infeed": "G1", "Bus": "B33", "Fault level (MVA)": 750, "X/R": 12},
    "bond": {"Station": "ELM", "Bond": "C1", "Equipment": "T1", "Conductor size": "70 mm2", "Connected to mat": "yes"},
}
TAG_COLUMN = 1
BAD_ROW = 3  # of the sheet: headings, sound, bad, sound

# Every entry of every list.
_LISTS = """
    SELECT 'quarantine' AS list, sheet, cell, reason AS what, found, expected AS said FROM raw.quarantine
    UNION ALL SELECT 'unread_cell', sheet, cell, field, found, expected FROM raw.unread_cell
    UNION ALL SELECT 'noted_cell', sheet, cell, field, found, note FROM raw.noted_cell
    UNION ALL SELECT 'question', sheet, cell, subject, found, candidates FROM raw.question
"""


@dataclass(frozen=True)
class Case:
    """One cell of one row: what the inventory holds for it, or the list entry that names it."""

    says: str
    table: str
    heading: str
    cell: Any
    field: str
    value: Any = None
    listed: str | None = None
    what: str | None = None
    said: str = ""
    found: str | None = None


def read_as(says: str, table: str, heading: str, cell: Any, field: str, value: Any) -> Case:
    """A cell that is read, and named in no list."""
    return Case(says, table, heading, cell, field, value)


def noted(says: str, table: str, heading: str, cell: Any, field: str, value: Any, said: str) -> Case:
    """A cell that is read, not quite as written, and said so."""
    return Case(says, table, heading, cell, field, value, "noted_cell", field, said)


def blank_and_named(
    says: str, table: str, heading: str, cell: Any, field: str, said: str, found: str | None = None
) -> Case:
    """A cell that leaves its field blank and is named as unread."""
    return Case(says, table, heading, cell, field, None, "unread_cell", field, said, found)


def waits(
    says: str, table: str, heading: str, cell: Any, field: str, reason: str, said: str, found: str | None = None
) -> Case:
    """A cell that keeps its row in quarantine."""
    return Case(says, table, heading, cell, field, None, "quarantine", reason, said, found)


def rows_of(table: str, *changes: dict[str, Any], station: str = "ELM") -> list[list[Any]]:
    """Headings, and the sound row once for each set of changed cells, with a tag of its own."""
    sound = SOUND[table] | {"Station": station}
    tag_heading = list(sound)[TAG_COLUMN]
    rows: list[list[Any]] = [list(sound)]
    for number, changed in enumerate(changes, 1):
        row = sound | {tag_heading: f"{sound[tag_heading]}-{number}"} | changed
        rows.append(list(row.values()))
    return rows


def cell_of(table: str, heading: str, row: int = BAD_ROW) -> str:
    """The name of the cell under a heading."""
    return f"{chr(65 + list(SOUND[table]).index(heading))}{row}"


def listed(store: Store, sheet: str | None = None) -> list[tuple[Any, ...]]:
    """Every entry of every list, or those of one sheet: list, cell, what, found, said."""
    query = f"SELECT * EXCLUDE (sheet) FROM ({_LISTS}) WHERE $sheet IS NULL OR sheet = $sheet ORDER BY ALL"
    return store.sql(query, {"sheet": sheet}).fetchall()


def records(store: Store, table: str, station: str = "ELM") -> dict[str, dict[str, Any]]:
    """The records of a table by tag, without station and what ingest keeps beside them."""
    query = f'SELECT * EXCLUDE (raw_row, part, substation) FROM inventory."{table}" WHERE substation = $station'
    relation = store.sql(query, {"station": station})
    names = relation.columns
    return {row[names.index(table)]: dict(zip(names, row, strict=True)) for row in relation.fetchall()}


def read_cases(cases: Sequence[Case], folder: Path) -> Store:
    """Read a workbook with a sheet and a station for each case: the bad cell between two sound rows."""
    workbook = openpyxl.Workbook()
    workbook.remove(workbook.active)
    for number, case in enumerate(cases):
        _add(workbook, str(number), rows_of(case.table, {}, {case.heading: case.cell}, {}, station=f"S{number}"))
    # Read alone, the sound rows tell what they must be beside the bad one.
    for table in SOUND:
        _add(workbook, f"sound {table}", rows_of(table, {}, {}, {}))
    workbook.save(folder / "north.xlsx")
    store = Store()
    ingest(store, [folder / "north.xlsx"])
    assert_accounted(store)
    return store


def _add(workbook: openpyxl.Workbook, name: str, rows: list[list[Any]]) -> None:
    sheet = workbook.create_sheet(name)
    for row in rows:
        sheet.append(row)


def prove(store: Store, cases: Sequence[Case], case: Case) -> None:
    """Prove that the bad cell is in the list that the case names, and that nothing else is touched."""
    number = cases.index(case)
    _prove_listed(case, listed(store, str(number)))
    sound = records(store, case.table)
    found = records(store, case.table, f"S{number}")
    tags = list(sound)
    bad = found.pop(tags[1], None)
    assert found == {tag: sound[tag] for tag in (tags[0], tags[2])}
    if case.listed == "quarantine":
        assert bad is None
    else:
        assert bad is not None
        assert _without(bad, case.field) == _without(sound[tags[1]], case.field)
        _assert_equal(bad[case.field], case.value)


def _prove_listed(case: Case, entries: list[tuple[Any, ...]]) -> None:
    if case.listed is None:
        assert entries == []
        return
    assert len(entries) == 1, entries
    [(where, cell, what, found, said)] = entries
    assert (where, cell, what) == (case.listed, cell_of(case.table, case.heading), case.what)
    assert found == (cell_text(case.cell) if case.found is None else case.found)
    assert case.said in (said or "")


def _without(record: dict[str, Any], name: str) -> dict[str, Any]:
    """A record but for one field."""
    return {field: value for field, value in record.items() if field != name}


def _assert_equal(found: Any, expected: Any) -> None:
    """Numbers agree to a part in a thousand million, all else exactly."""
    if isinstance(expected, float) and math.isfinite(expected):
        assert found is not None
        assert abs(found - expected) <= 1e-9 * abs(expected)
    else:
        assert found == expected


def ids(cases: Iterable[Case]) -> list[str]:
    """The sentence of each case."""
    return [case.says for case in cases]
