"""A filled template is read without a question: every heading feeds the column that it was made from."""

from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from groundcheck.ingest import ingest
from groundcheck.schema import INVENTORY_TABLES, Column
from groundcheck.schema.template import write_template
from groundcheck.store import Store

VALUES: dict[str, Any] = {
    "text": "as built",
    "key": "ASH",
    "reference": "B1",
    "references": "T1",
    "vector_group": "Dyn11",
    "quantity": 0.5,
    "size": "70 mm2",
    "count": 3,
    "yes_no": "yes",
    "date": "2024-03-31",
    "places": "relay panel",
}


def value_of(column: Column, position: int) -> object:
    """Something that the column takes; references of one row differ, so that nothing is connected to itself."""
    if column.accepted:
        return next(iter(column.accepted))
    if column.kind == "count":
        return int(max(VALUES["count"], column.ge or 0))
    value = VALUES[column.kind]
    return f"{value}{position}" if column.kind == "reference" else value


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Store:
    path: Path = tmp_path_factory.mktemp("filled") / "inventory.xlsx"
    write_template(path)
    book = load_workbook(path)
    for name, model in INVENTORY_TABLES.items():
        sheet = book[name.replace("_", " ")]
        for position, column in enumerate(model.columns().values(), 1):
            sheet.cell(2, position).value = value_of(column, position)
    book.save(path)
    store = Store()
    ingest(store, [path])
    return store


@pytest.mark.parametrize("name", INVENTORY_TABLES)
def test_every_heading_feeds_the_column_it_was_made_from(store: Store, name: str) -> None:
    fed = store.connection.execute(
        "SELECT DISTINCT target_table, field FROM raw.column_map WHERE sheet = ? AND field IS NOT NULL",
        [name.replace("_", " ")],
    ).fetchall()
    assert set(fed) == {(name, column) for column in INVENTORY_TABLES[name].columns()}


@pytest.mark.parametrize("name", INVENTORY_TABLES)
def test_row_of_each_sheet_is_used(store: Store, name: str) -> None:
    sheet = name.replace("_", " ")
    used = store.connection.execute("SELECT rows_used FROM raw.account WHERE sheet = ?", [sheet]).fetchall()
    waiting = store.connection.execute("SELECT * FROM raw.quarantine WHERE sheet = ?", [sheet]).fetchall()
    assert (used, waiting) == ([(1,)], [])


@pytest.mark.parametrize("sheet", ["Explanation", "Words"])
def test_sheet_for_people_feeds_nothing(store: Store, sheet: str) -> None:
    fed = store.connection.execute("SELECT sum(rows_used) FROM raw.account WHERE sheet = ?", [sheet]).fetchall()
    assert fed[0][0] in (0, None)


def test_every_cell_could_be_read(store: Store) -> None:
    assert store.connection.execute("SELECT cell, field, found, expected FROM raw.unread_cell").fetchall() == []
