"""Whether a rule's examples would notice a change of the rule: a comparison swapped, a limit scaled."""

import dataclasses
import json
from collections.abc import Iterator
from typing import Any

import duckdb
import pyarrow as pa

from groundcheck.audit.examples import example_answers, example_parameters
from groundcheck.audit.question import ask
from groundcheck.audit.rule import Rule
from groundcheck.audit.single_select import read_select

SWAPS = {
    "COMPARE_GREATERTHANOREQUALTO": "COMPARE_GREATERTHAN",
    "COMPARE_GREATERTHAN": "COMPARE_GREATERTHANOREQUALTO",
    "COMPARE_LESSTHANOREQUALTO": "COMPARE_LESSTHAN",
    "COMPARE_LESSTHAN": "COMPARE_LESSTHANOREQUALTO",
    "COMPARE_EQUAL": "COMPARE_NOTEQUAL",
    "COMPARE_NOTEQUAL": "COMPARE_EQUAL",
}
SCALE = 1.5


def unnoticed_swaps(rule: Rule) -> list[str]:
    """
    The comparisons behind `ok`, 'left >= right', that may be swapped without any example ending otherwise.

    Raises
    ------
    RuleFault
        The query or an example is at fault.
    """
    mutants = [
        (comparison, dataclasses.replace(rule, query=query)) for comparison, query in swapped_comparisons(rule.query)
    ]
    for tables in rule.examples.values():
        with example_answers(rule, tables) as (store, answers, parameters):
            expected = _outcomes(answers)
            mutants = [each for each in mutants if _outcomes(ask(store, each[1], parameters)) == expected]
    return [comparison for comparison, _ in mutants]


def unnoticed_limits(rule: Rule) -> list[str]:
    """
    The numeric policy entries, by their short names, that may be half as large again without any example noticing.

    Raises
    ------
    RuleFault
        The query or an example is at fault.
    """
    used = read_select(rule.query).parameters
    given = example_parameters(rule)
    limits = [n for n, v in given.items() if n in used and isinstance(v, int | float) and not isinstance(v, bool)]
    for tables in rule.examples.values():
        with example_answers(rule, tables) as (store, answers, parameters):
            expected = _outcomes(answers)
            limits = [
                name
                for name in limits
                if _outcomes(ask(store, rule, parameters | {name: SCALE * parameters[name]})) == expected
            ]
    return limits


def _outcomes(answers: pa.Table) -> list[tuple[str, ...]]:
    """The outcome for each asset asked about."""
    rows = answers.select(["substation", "asset_kind", "asset", "item", "ok"]).to_pylist()
    return sorted(tuple(str(value) for value in row.values()) for row in rows)


def swapped_comparisons(query: str) -> Iterator[tuple[str, str]]:
    """Each comparison that `ok` depends on, as text, with the query that has it swapped."""
    with duckdb.connect() as parser:
        text = _only(parser.execute("SELECT json_serialize_sql(?)", [read_select(query).text]).fetchone())
        for number in range(len(list(_comparisons(json.loads(text))))):
            tree = json.loads(text)
            node = list(_comparisons(tree))[number]
            written = _words(node)
            node["type"] = SWAPS[node["type"]]
            yield written, _only(parser.execute("SELECT json_deserialize_sql(?::JSON)", [json.dumps(tree)]).fetchone())


def _only(row: tuple[Any, ...] | None) -> str:
    if row is None:
        raise ValueError("the query can't be written out")
    return str(row[0])


def _comparisons(tree: Any) -> Iterator[dict[str, Any]]:
    """The comparisons in the expression called `ok`, and in the columns that it is made of, in a fixed order."""
    named: dict[str, list[Any]] = {}
    for node in _nodes(tree):
        for expression in node.get("select_list", ()):
            if expression.get("alias"):
                named.setdefault(expression["alias"].lower(), []).append(expression)
    waiting, done = ["ok"], set()
    while waiting:
        name = waiting.pop()
        if name in done:
            continue
        done.add(name)
        for node in (node for expression in named.get(name, ()) for node in _nodes(expression)):
            if node.get("type") in SWAPS:
                yield node
            if node.get("class") == "COLUMN_REF":
                waiting.append(node["column_names"][-1].lower())


def _nodes(tree: Any) -> Iterator[dict[str, Any]]:
    """All dictionaries of a tree."""
    if isinstance(tree, dict):
        yield tree
        for value in tree.values():
            yield from _nodes(value)
    elif isinstance(tree, list):
        for value in tree:
            yield from _nodes(value)


def _words(node: dict[str, Any]) -> str:
    """A comparison as 'left >= right', each side by the names in it."""
    sign = {"GREATERTHANOREQUALTO": ">=", "GREATERTHAN": ">", "LESSTHANOREQUALTO": "<=", "LESSTHAN": "<",
            "EQUAL": "=", "NOTEQUAL": "<>"}[node["type"].removeprefix("COMPARE_")]  # fmt: skip
    sides = (" ".join(filter(None, map(_leaf, _nodes(node[side])))) for side in ("left", "right"))
    return f" {sign} ".join(sides)


def _leaf(node: dict[str, Any]) -> str:
    if node.get("class") == "COLUMN_REF":
        return ".".join(node["column_names"])
    if node.get("class") == "PARAMETER":
        return f"${node['identifier']}"
    if node.get("class") == "CONSTANT":
        return str(node.get("literal", {}).get("text", node.get("value")))
    return ""
