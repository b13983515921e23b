"""Asking one rule's question of everything in the store."""

import math
from collections.abc import Mapping
from datetime import date
from typing import Any

import duckdb
import pyarrow as pa

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
    The answers, a row an asset asked about: the query's columns with NaN as NULL, and `item` if the query has none.

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
    connection.execute("BEGIN TRANSACTION READ ONLY")
    try:
        described = connection.execute(f"DESCRIBE {select.text}", used).fetchall()
        columns = {name: str(kind) for name, kind, *_ in described}
        _check_columns(columns, [name for name, *_ in described])
        return connection.sql(_without_nan(select.text, columns), params=used).to_arrow_table()
    except duckdb.Error as error:
        raise query_fault(error) from error
    finally:
        connection.execute("ROLLBACK")


def _check_columns(columns: dict[str, str], names: list[str]) -> None:
    for name in ANSWER_COLUMNS:
        if name not in columns:
            raise RuleFault(f"the query returns no column `{name}`", "query")
    for name in columns:
        if names.count(name) > 1:
            raise RuleFault(f"the query returns the column `{name}` twice; name each column once", "query", name)
    if columns["ok"] != "BOOLEAN":
        raise RuleFault(f"the query's column `ok` is {columns['ok']}; BOOLEAN is expected", "query")


def _without_nan(select: str, columns: dict[str, str]) -> str:
    floats = [name for name, kind in columns.items() if kind in ("DOUBLE", "FLOAT")]
    parts = [f"""nullif("{name}", 'nan'::{columns[name]}) AS "{name}\"""" for name in floats]
    nans = [f'coalesce(isnan("{name}"), FALSE)' for name in ("actual", "required") if name in floats]
    if nans:
        parts.append(f"CASE WHEN {' OR '.join(nans)} THEN NULL ELSE ok END AS ok")
    replace = f" REPLACE ({', '.join(parts)})" if parts else ""
    item = "" if "item" in columns else ", NULL::VARCHAR AS item"
    return f"SELECT *{replace}{item} FROM ({select}\n)"
