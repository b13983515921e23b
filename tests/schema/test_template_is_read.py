"""A template filled with its own examples is read without a map or a question; every heading feeds its column."""

from pathlib import Path

import pytest
from openpyxl import load_workbook

from groundcheck.ingest import ingest
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.schema.template import write_template
from groundcheck.store import Store


def typed(example: str | None) -> float | str | None:
    """The example as a person's spreadsheet program would keep it: a number where it is one."""
    try:
        return float(example or "")
    except ValueError:
        return example


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Store:
    path: Path = tmp_path_factory.mktemp("filled") / "inventory.xlsx"
    write_template(path)
    book = load_workbook(path)
    for name, model in INVENTORY_TABLES.items():
        sheet = book[name.replace("_", " ")]
        for position, column in enumerate(model.columns().values(), 1):
            sheet.cell(2, position).value = typed(column.example)
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


@pytest.mark.parametrize("table", ["raw.question", "raw.quarantine", "inventory.contradiction"])
def test_examples_of_one_station_agree_and_leave_nothing_to_ask(store: Store, table: str) -> None:
    assert store.connection.execute(f"FROM {table}").fetchall() == []


def test_bus_named_by_several_sheets_is_one(store: Store) -> None:
    buses = store.connection.execute("SELECT bus FROM inventory.bus WHERE substation = 'ASH' ORDER BY bus").fetchall()
    assert buses == [("B11",), ("B33",), ("B6",)]
