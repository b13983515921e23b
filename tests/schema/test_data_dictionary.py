"""The data dictionary holds every column, and the page in the repository is current."""

from importlib.resources import files

import pytest

from groundcheck.schema import STAGES
from groundcheck.schema.dictionary import data_dictionary


def test_page_in_the_repository_is_current() -> None:
    page = (files("groundcheck.schema") / "DATA_DICTIONARY.md").read_text(encoding="utf-8")
    assert page == data_dictionary(), (
        "make it anew: groundcheck template --dictionary groundcheck/schema/DATA_DICTIONARY.md"
    )


@pytest.mark.parametrize(("stage", "name"), [(stage, name) for stage, tables in STAGES.items() for name in tables])
def test_section_of_a_table_has_a_row_for_each_column(stage: str, name: str) -> None:
    section = data_dictionary().split(f"\n### {stage}.{name}\n")[1].split("\n### ")[0].split("\n## ")[0]
    rows = [line.split(" | ") for line in section.splitlines() if line.startswith("| ")]
    described = {row[0].strip("|* "): row for row in rows[2:]}
    for column in STAGES[stage][name].columns().values():
        assert column.description in described[column.name][5]
        assert described[column.name][3] == (column.unit or "")
        assert described[column.name][4] == column.limits
