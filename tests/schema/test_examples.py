"""The example of every column is one: it is read as it stands, for the column whose heading shows it."""

from pathlib import Path

import pytest
from openpyxl import load_workbook

from groundcheck.ingest.values import read_cell
from groundcheck.schema import INVENTORY_TABLES, Column
from groundcheck.schema.dictionary import data_dictionary
from groundcheck.schema.template import write_template

COLUMNS = [
    pytest.param(name, column, id=f"{name}.{column.name}")
    for name, model in INVENTORY_TABLES.items()
    for column in model.columns().values()
]


@pytest.mark.parametrize(("name", "column"), COLUMNS)
def test_example_gives_a_value_and_leaves_nothing_to_say(name: str, column: Column) -> None:
    reading = read_cell(column.example, column)
    assert reading.value is not None
    assert (reading.problem, reading.note) == (None, None)


@pytest.mark.parametrize(("name", "column"), COLUMNS)
def test_data_dictionary_shows_the_example(name: str, column: Column) -> None:
    section = data_dictionary().split(f"\n### inventory.{name}\n")[1].split("\n### ")[0]
    heads, *rows = [[cell.strip(" *") for cell in line.split(" | ")] for line in section.splitlines() if "|" in line]
    (row,) = [row for row in rows if row[0].strip("| *") == column.name]
    assert row[heads.index("example")] == column.example


def test_heading_of_every_column_shows_its_example(tmp_path: Path) -> None:
    write_template(tmp_path / "inventory.xlsx")
    book = load_workbook(tmp_path / "inventory.xlsx")
    for name, model in INVENTORY_TABLES.items():
        for cell, column in zip(book[name.replace("_", " ")][1], model.columns().values(), strict=True):
            assert cell.comment.text.splitlines()[-1] == f"Example: {column.example}"
