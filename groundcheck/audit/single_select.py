"""What a rule may run: one SELECT over inventory and study, nothing that writes and nothing that reaches a file."""

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import duckdb

from groundcheck.audit.fault import RuleFault
from groundcheck.schema import STAGES

READABLE_STAGES = ("inventory", "study")
TABLE_FUNCTIONS = {"unnest", "range", "generate_series"}
QUERY_NODES = {"SELECT_NODE", "SET_OPERATION_NODE", "CTE_NODE", "RECURSIVE_CTE_NODE"}
SOURCES = {"BASE_TABLE", "SUBQUERY", "JOIN", "TABLE_FUNCTION", "EMPTY", "EXPRESSION_LIST"}


@dataclass(frozen=True)
class Select:
    """A query that may run, without its closing semicolon, and the names of its parameters."""

    text: str
    parameters: frozenset[str]


@lru_cache(maxsize=1024)
def read_select(query: str) -> Select:
    """
    Check a query without running it.

    Raises
    ------
    RuleFault
        It is no valid SQL, not one SELECT, or reads something other than a table of inventory or study.
    """
    try:
        statements = _parser().extract_statements(query)
    except duckdb.Error as error:
        raise query_fault(error) from error
    if len(statements) != 1:
        raise RuleFault(f"the query holds {len(statements)} statements; one SELECT is expected", "query")
    if statements[0].type != duckdb.StatementType.SELECT:
        kind = statements[0].type.name.replace("_", " ")
        raise RuleFault(f"the query is a statement of kind {kind}; one SELECT is expected", "query")
    text = statements[0].query.rstrip().rstrip(";")
    answer = _parser().execute("SELECT json_serialize_sql(?)", [text]).fetchone()
    tree = json.loads(answer[0]) if answer else {"error": True, "error_message": "no answer"}
    if tree["error"]:
        raise RuleFault(f"the query can't be checked ({tree['error_message']})", "query")
    _check_sources(tree)
    return Select(text, frozenset(statements[0].named_parameters))


@lru_cache(maxsize=1)
def _parser() -> duckdb.DuckDBPyConnection:
    """A database of its own, which holds nothing and only parses."""
    return duckdb.connect()


def _check_sources(tree: dict[str, Any]) -> None:
    parts = list(_dicts(tree))
    named = {
        str(entry["key"]).lower()
        for part in parts
        for entry in part.get("cte_map", {}).get("map", ())
        if str(entry["key"]).isidentifier()
    }
    for part in parts:
        kind = part.get("type")
        if isinstance(kind, str) and kind.endswith("_NODE"):
            if kind not in QUERY_NODES:
                raise RuleFault("the query writes; a rule may only read", "query")
        elif "sample" in part:
            _check_source(part, str(kind), named)


def _check_source(part: dict[str, Any], kind: str, named: set[str]) -> None:
    if kind not in SOURCES:
        raise RuleFault(f"the query reads from {kind.replace('_', ' ').lower()}; {_MAY_READ}", "query")
    if kind == "TABLE_FUNCTION":
        function = str(part["function"].get("function_name", ""))
        if function.lower() not in TABLE_FUNCTIONS:
            raise RuleFault(f"the query reads from {function}(); {_MAY_READ}", "query", function)
    if kind == "BASE_TABLE":
        stage, table = str(part["schema_name"]).lower(), str(part["table_name"])
        full = f"{stage}.{table}" if stage else table
        if (not stage and table.lower() in named) or (stage in READABLE_STAGES and table.lower() in STAGES[stage]):
            return
        raise RuleFault(f"the query reads from {full}; {_MAY_READ}", "query", full)


_MAY_READ = "a rule reads tables written inventory.NAME or study.NAME"


def _dicts(tree: Any) -> Iterator[dict[str, Any]]:
    if isinstance(tree, dict):
        yield tree
        for value in tree.values():
            yield from _dicts(value)
    elif isinstance(tree, list):
        for value in tree:
            yield from _dicts(value)


def query_fault(error: duckdb.Error) -> RuleFault:
    """DuckDB's complaint as one line, with the line of the query it points at."""
    text = str(error)
    where = re.search(r"\nLINE (\d+):", text)
    offset = int(where[1]) - 1 if where else 0
    first = " ".join(text.partition("\n\nLINE")[0].split())
    return RuleFault(f"the query fails: {first}", "query", offset=offset)
