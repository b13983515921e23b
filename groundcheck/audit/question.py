"""Asking one rule's question of everything in the store."""

import math
from collections.abc import Mapping
from datetime import date
from typing import Any

import duckdb
import pyarrow as pa
import pyarrow.compute as pc

from groundcheck.audit.fault import RuleFault
from groundcheck.audit.rule import Rule
from groundcheck.audit.single_select import query_fault, read_select
from groundcheck.policy import Policy
from groundcheck.store import Store

ANSWER_COLUMNS = ("substation", "asset_kind", "asset", "actual", "required", "unit", "ok")


AUDIT_DATE = "audit_date"


def rule_parameters(rule: Rule, policy: Policy, audit_date: date) -> dict[str, Any]:
    """The rule's policy entries by the short names that its query uses, and the day as of which it asks."""
    return {AUDIT_DATE: audit_date} | {name: policy[entry] for name, entry in rule.policy.items()}


def ask(store: Store, rule: Rule, parameters: Mapping[str, Any]) -> pa.Table:
    """
    The answers, a row an asset asked about: the query's columns, and `item` if the query has none.

    NaN is NULL, and a decimal number a float.

    Raises
    ------
    RuleFault
        The query may not run, fails, lacks a column, has `ok` of another type, or answers twice for one asset.
    """
    select = read_select(rule.query)
    for name in sorted(select.parameters - set(parameters)):
        raise RuleFault(f"the query uses ${name}, which the rule's policy does not list", "query", f"${name}")
    used = {
        name: None if isinstance(value, float) and math.isnan(value) else value
        for name, value in parameters.items()
        if name in select.parameters
    }
    connection = store.connection
    connection.execute("SET python_enable_replacements = false")  # or a table that is not there is looked for in Python
    connection.execute("BEGIN TRANSACTION READ ONLY")
    try:
        answers = connection.sql(select.text, params=used)
        _check_columns(answers.columns, [str(kind) for kind in answers.types])
        return _without_nan(answers.to_arrow_table())
    except duckdb.Error as error:
        raise query_fault(_with_its_line(connection, select.text, used, error)) from error
    finally:
        connection.execute("ROLLBACK")
        connection.execute("SET python_enable_replacements = true")


def _with_its_line(
    connection: duckdb.DuckDBPyConnection, text: str, used: Mapping[str, Any], error: duckdb.Error
) -> duckdb.Error:
    """The complaint with the line of the query that it points at, which a relation leaves out."""
    try:
        connection.execute(f"DESCRIBE {text}", used)
    except duckdb.Error as described:
        return described if "\nLINE " in str(described) else error
    return error


def _check_columns(names: list[str], kinds: list[str]) -> None:
    for name in ANSWER_COLUMNS:
        if name not in names:
            raise RuleFault(f"the query returns no column `{name}`", "query")
    for name in names:
        if names.count(name) > 1:
            raise RuleFault(f"the query returns the column `{name}` twice; name each column once", "query", name)
    kind = kinds[names.index("ok")]
    if kind != "BOOLEAN":
        raise RuleFault(f"the query's column `ok` is {kind}; BOOLEAN is expected", "query")


def _without_nan(answers: pa.Table) -> pa.Table:
    """The answers with NaN as NULL, also as `ok` where actual or required is NaN; decimals as floats; with `item`."""
    for place, column in enumerate(answers.schema):
        if pa.types.is_decimal(column.type):
            answers = answers.set_column(place, column.name, answers[column.name].cast(pa.float64()))
        elif pa.types.is_floating(column.type):
            nan = pc.fill_null(pc.is_nan(answers[column.name]), False)
            if column.name in ("actual", "required"):
                answers = _blank(answers, "ok", nan)
            answers = _blank(answers, column.name, nan)
    if "item" not in answers.column_names:
        answers = answers.append_column("item", pa.nulls(len(answers), pa.string()))
    return answers


def _blank(answers: pa.Table, name: str, where: Any) -> pa.Table:
    column = answers[name]
    blanked = pc.if_else(where, pa.scalar(None, column.type), column)
    return answers.set_column(answers.column_names.index(name), name, blanked)
