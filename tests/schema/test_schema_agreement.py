"""Every fact about a column stands once: models, statements, headings and limits agree."""

import numpy as np
import pandas as pd
import pandera.pandas as pa
import pytest

from groundcheck.schema import INVENTORY_TABLES, STAGES, Column, sql_columns
from groundcheck.schema.columns import KINDS
from groundcheck.schema.table import PROVENANCE, SQL_TYPES
from groundcheck.store import Store

TABLES = [(stage, name, model) for stage, tables in STAGES.items() for name, model in tables.items()]
COLUMNS = [
    pytest.param(model, column, id=f"{stage}.{name}.{column.name}")
    for stage, name, model in TABLES
    for column in model.columns().values()
]
INVENTORY_COLUMNS = [
    pytest.param(model, column, id=f"{name}.{column.name}")
    for name, model in INVENTORY_TABLES.items()
    for column in model.columns().values()
]

# Numbers that have no unit, and why.
PURE_NUMBERS = {
    "x_over_r": "a ratio of two impedances",
    "x_over_r_min": "a ratio of two impedances",
    "z0_x_over_r": "a ratio of two impedances",
    "r0_over_x0": "a ratio of two impedances",
    "x0_over_x1": "a ratio of two impedances",
    "r0_over_x1": "a ratio of two impedances",
    "cog": "a ratio of two voltages",
    "cog_before": "a ratio of two voltages",
    "resistor_over_charging": "a ratio of two currents",
    "detuning": "a ratio of two currents",
    "damping": "a ratio of two currents",
    "duty_factor": "a ratio of two powers",
    "power_factor": "a ratio of two powers",
    "time_dial": "a multiplier",
    "value": "its unit stands in the column beside it",
    "certainty": "0 to 1",
    "tolerance": "relative",
}


@pytest.mark.parametrize(("stage", "name", "model"), TABLES)
def test_store_has_exactly_the_columns_of_the_model(stage: str, name: str, model: type) -> None:
    with Store() as store:
        described = store.sql(f'DESCRIBE {stage}."{name}"').fetchall()
    assert {row[0]: row[1] for row in described} == sql_columns(model)


@pytest.mark.parametrize(("model", "column"), COLUMNS)
def test_column_has_a_kind_a_description_and_a_unit_or_a_reason(model: type, column: Column) -> None:
    assert column.kind in KINDS
    assert column.kind in SQL_TYPES
    assert column.description.endswith(".")
    if column.kind in ("quantity", "size") and column.unit is None:
        assert column.name.removesuffix("_low").removesuffix("_high") in PURE_NUMBERS


@pytest.mark.parametrize(("model", "column"), COLUMNS)
def test_no_column_takes_the_name_of_a_provenance_column(model: type, column: Column) -> None:
    if model in INVENTORY_TABLES.values():
        assert column.name not in PROVENANCE


@pytest.mark.parametrize("name", INVENTORY_TABLES)
def test_heading_belongs_to_one_column_of_its_table(name: str) -> None:
    owners: dict[str, set[str]] = {}
    for column in INVENTORY_TABLES[name].columns().values():
        for heading in (column.name.replace("_", " "), *column.aliases):
            owners.setdefault(heading.casefold(), set()).add(column.name)
    assert {heading: columns for heading, columns in owners.items() if len(columns) > 1} == {}


@pytest.mark.parametrize(("model", "column"), INVENTORY_COLUMNS)
def test_alias_is_lower_case_and_named_once(model: type, column: Column) -> None:
    assert [alias for alias in column.aliases if alias != alias.casefold() or alias != alias.strip()] == []
    assert len(set(column.aliases)) == len(column.aliases)


@pytest.mark.parametrize(("model", "column"), INVENTORY_COLUMNS)
def test_spelling_means_one_word_of_its_vocabulary(model: type, column: Column) -> None:
    owners: dict[str, set[str]] = {}
    for word, spellings in (column.accepted or {}).items():
        for spelling in (word, word.replace("_", " "), *spellings):
            owners.setdefault(spelling.casefold(), set()).add(word)
    assert {spelling: words for spelling, words in owners.items() if len(words) > 1} == {}


@pytest.mark.parametrize(("model", "column"), INVENTORY_COLUMNS)
def test_reference_names_canonical_tables(model: type, column: Column) -> None:
    assert set(column.refers_to) <= set(INVENTORY_TABLES)
    if column.kind not in ("reference", "references"):
        assert not column.refers_to


def is_accepted(model: type, column: Column, value: object) -> bool:
    """Whether the pandera check of the column lets a value pass; the judge is pandera, not the column's own facts."""
    field = model.to_schema().columns[column.name]
    try:
        pa.DataFrameSchema({column.name: pa.Column(checks=field.checks, nullable=field.nullable)}).validate(
            pd.DataFrame({column.name: [value]}), lazy=True
        )
    except pa.errors.SchemaErrors:
        return False
    return True


@pytest.mark.parametrize(("model", "column"), INVENTORY_COLUMNS)
def test_pandera_enforces_the_limits_that_the_column_tells(model: type, column: Column) -> None:
    for limit, is_inside in ((column.gt, False), (column.ge, True), (column.le, True)):
        if limit is not None:
            assert is_accepted(model, column, float(limit)) is is_inside
    lowest = column.gt if column.gt is not None else column.ge
    if lowest is not None:
        assert not is_accepted(model, column, float(np.nextafter(lowest, -np.inf)))
        assert is_accepted(model, column, float(np.nextafter(lowest, np.inf)))
    if column.le is not None:
        assert not is_accepted(model, column, float(np.nextafter(column.le, np.inf)))


@pytest.mark.parametrize(("model", "column"), INVENTORY_COLUMNS)
def test_pandera_accepts_the_words_of_the_vocabulary_and_no_other(model: type, column: Column) -> None:
    if column.accepted:
        assert all(is_accepted(model, column, word) for word in column.accepted)
        assert not is_accepted(model, column, "no such word")


@pytest.mark.parametrize(("model", "column"), INVENTORY_COLUMNS)
def test_pandera_asks_for_what_the_column_calls_required(model: type, column: Column) -> None:
    assert is_accepted(model, column, None) is not column.required
