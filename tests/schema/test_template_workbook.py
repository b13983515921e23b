"""The blank inventory workbook says of each column what its model says."""

from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook

from groundcheck.schema import INVENTORY_TABLES
from groundcheck.schema.template import template_heading, write_template


@pytest.fixture(scope="module")
def template(tmp_path_factory: pytest.TempPathFactory) -> Workbook:
    path = tmp_path_factory.mktemp("template") / "inventory.xlsx"
    write_template(path)
    return load_workbook(path)


def test_sheets_are_the_canonical_tables_behind_the_explanation(template: Workbook) -> None:
    tables = [name.replace("_", " ") for name in INVENTORY_TABLES]
    assert template.sheetnames == ["Explanation", *tables, "Words"]
    assert template["Words"].sheet_state == "hidden"


@pytest.mark.parametrize("name", INVENTORY_TABLES)
def test_headings_are_the_columns_with_their_units(template: Workbook, name: str) -> None:
    headings = [cell.value for cell in template[name.replace("_", " ")][1]]
    assert headings == [template_heading(column) for column in INVENTORY_TABLES[name].columns().values()]


@pytest.mark.parametrize("name", INVENTORY_TABLES)
def test_required_headings_stand_out_and_every_heading_is_explained(template: Workbook, name: str) -> None:
    sheet = template[name.replace("_", " ")]
    for cell, column in zip(sheet[1], INVENTORY_TABLES[name].columns().values(), strict=True):
        assert bool(cell.font.bold) is column.required
        assert column.description in cell.comment.text
        assert column.limits in cell.comment.text
        assert all(word in cell.comment.text for word in column.accepted or ())


@pytest.mark.parametrize("name", INVENTORY_TABLES)
def test_drop_down_offers_the_words_of_the_vocabulary(template: Workbook, name: str) -> None:
    sheet = template[name.replace("_", " ")]
    offered = {}
    for rule in sheet.data_validations.dataValidation:
        source = rule.formula1
        if source.startswith("Words!"):
            words = [row[0].value for row in template["Words"][source.removeprefix("Words!").replace("$", "")]]
        else:
            words = source.strip('"').split(",")
        offered[min(area.min_col for area in rule.sqref.ranges)] = words
    expected = {}
    for position, column in enumerate(INVENTORY_TABLES[name].columns().values(), 1):
        if column.accepted:
            expected[position] = list(column.accepted)
        elif column.kind == "yes_no":
            expected[position] = ["yes", "no"]
    assert offered == expected


@pytest.mark.parametrize("name", INVENTORY_TABLES)
def test_head_and_tags_stay_in_view(template: Workbook, name: str) -> None:
    keys = len(INVENTORY_TABLES[name].key_columns())
    assert template[name.replace("_", " ")].freeze_panes == f"{'ABC'[keys]}2"


def test_file_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="No such file or directory"):
        write_template(tmp_path / "missing" / "inventory.xlsx")
