"""Every rule of every installed rulebook: its examples, and whether they would notice a change of the rule."""

import dataclasses
import json
from collections.abc import Iterator
from typing import Any

import duckdb
import pyarrow as pa
import pytest

from groundcheck.audit import LoadedRule, Rule, load_rulebooks
from groundcheck.audit.examples import check_example, example_answers, example_parameters, trace_example
from groundcheck.audit.question import ask
from groundcheck.audit.single_select import read_select

BOOK = load_rulebooks()
RULES = [pytest.param(loaded, id=name) for name, loaded in BOOK.rules.items()]
EXAMPLES = [
    pytest.param(loaded.rule, label, id=f"{name} | {label}")
    for name, loaded in BOOK.rules.items()
    for label in loaded.rule.examples
]
SWAPS = {
    "COMPARE_GREATERTHANOREQUALTO": "COMPARE_GREATERTHAN",
    "COMPARE_GREATERTHAN": "COMPARE_GREATERTHANOREQUALTO",
    "COMPARE_LESSTHANOREQUALTO": "COMPARE_LESSTHAN",
    "COMPARE_LESSTHAN": "COMPARE_LESSTHANOREQUALTO",
    "COMPARE_EQUAL": "COMPARE_NOTEQUAL",
    "COMPARE_NOTEQUAL": "COMPARE_EQUAL",
}

# Swapped comparisons that give the same answers for every possible record, with the reason.
EQUIVALENT: dict[tuple[str, str], str] = {
    ("arresters/continuous-voltage", "least_s = most_s"): "only what is shown: a duration that is known",
}


def test_every_installed_rule_module_loads():
    assert [str(refusal) for refusal in BOOK.refused] == []
    assert BOOK.rules


@pytest.mark.parametrize("loaded", RULES)
def test_a_rule_shows_each_outcome(loaded: LoadedRule):
    shown = {label.partition(":")[0] for label in loaded.rule.examples}
    assert {"exception", "satisfied"} <= shown
    assert "not assessable" in shown or loaded.rule.always_assessable


@pytest.mark.parametrize(("rule", "label"), EXAMPLES)
def test_example_gives_the_outcome_it_is_labelled_with(rule: Rule, label: str):
    assert check_example(rule, label, rule.examples[label]) == []


@pytest.mark.parametrize(("rule", "label"), [p for p in EXAMPLES if p.values[1].startswith("not assessable")])
def test_what_is_not_assessable_names_a_field_to_fill_in(rule: Rule, label: str):
    traced = trace_example(rule, rule.examples[label])
    assert traced
    assert all(fields for fields in traced.values()), traced


@pytest.mark.parametrize("loaded", RULES)
def test_an_example_notices_each_swapped_comparison(loaded: LoadedRule):
    rule = loaded.rule
    mutants = {
        f"{number}: {comparison}": dataclasses.replace(rule, query=query)
        for number, (comparison, query) in enumerate(swapped_comparisons(rule.query), start=1)
        if (loaded.name, comparison) not in EQUIVALENT
    }
    for tables in rule.examples.values():
        with example_answers(rule, tables) as (store, answers, parameters):
            expected = outcomes(answers)
            mutants = {name: m for name, m in mutants.items() if outcomes(ask(store, m, parameters)) == expected}
    assert list(mutants) == []


@pytest.mark.parametrize("loaded", RULES)
def test_an_example_notices_each_limit_scaled(loaded: LoadedRule):
    rule = loaded.rule
    defaults = example_parameters(rule)
    used = read_select(rule.query).parameters
    limits = [n for n, v in defaults.items() if n in used and isinstance(v, int | float) and not isinstance(v, bool)]
    for tables in rule.examples.values():
        with example_answers(rule, tables) as (store, answers, parameters):
            expected = outcomes(answers)
            limits = [
                name
                for name in limits
                if outcomes(ask(store, rule, parameters | {name: 1.5 * parameters[name]})) == expected
            ]
    assert limits == []


def outcomes(answers: pa.Table) -> list[tuple[Any, ...]]:
    """The outcome for each asset asked about."""
    rows = answers.select(["substation", "asset_kind", "asset", "item", "ok"]).to_pylist()
    return sorted(tuple(str(value) for value in row.values()) for row in rows)


def swapped_comparisons(query: str) -> Iterator[tuple[str, str]]:
    """Each comparison that `ok` depends on, as text, with the query that has it swapped."""
    with duckdb.connect() as parser:
        (text,) = parser.execute("SELECT json_serialize_sql(?)", [read_select(query).text]).fetchone()
        for number in range(len(list(comparisons(json.loads(text))))):
            tree = json.loads(text)
            node = list(comparisons(tree))[number]
            written = words(node)
            node["type"] = SWAPS[node["type"]]
            (mutant,) = parser.execute("SELECT json_deserialize_sql(?::JSON)", [json.dumps(tree)]).fetchone()
            yield written, mutant


def comparisons(tree: Any) -> Iterator[dict[str, Any]]:
    """The comparisons in the expression called `ok`, and in the columns that it is made of, in a fixed order."""
    named: dict[str, list[Any]] = {}
    for node in nodes(tree):
        for expression in node.get("select_list", ()):
            if expression.get("alias"):
                named.setdefault(expression["alias"].lower(), []).append(expression)
    waiting, done = ["ok"], set()
    while waiting:
        name = waiting.pop()
        if name in done:
            continue
        done.add(name)
        for node in (node for expression in named.get(name, ()) for node in nodes(expression)):
            if node.get("type") in SWAPS:
                yield node
            if node.get("class") == "COLUMN_REF":
                waiting.append(node["column_names"][-1].lower())


def nodes(tree: Any) -> Iterator[dict[str, Any]]:
    """All dictionaries of a tree."""
    if isinstance(tree, dict):
        yield tree
        for value in tree.values():
            yield from nodes(value)
    elif isinstance(tree, list):
        for value in tree:
            yield from nodes(value)


def words(node: dict[str, Any]) -> str:
    """A comparison as 'left >= right', each side by the names in it."""
    sign = {"GREATERTHANOREQUALTO": ">=", "GREATERTHAN": ">", "LESSTHANOREQUALTO": "<=", "LESSTHAN": "<",
            "EQUAL": "=", "NOTEQUAL": "<>"}[node["type"].removeprefix("COMPARE_")]  # fmt: skip
    sides = (" ".join(filter(None, map(leaf, nodes(node[side])))) for side in ("left", "right"))
    return f" {sign} ".join(sides)


def leaf(node: dict[str, Any]) -> str:
    if node.get("class") == "COLUMN_REF":
        return ".".join(node["column_names"])
    if node.get("class") == "PARAMETER":
        return f"${node['identifier']}"
    if node.get("class") == "CONSTANT":
        return str(node.get("literal", {}).get("text", node.get("value")))
    return ""


def test_a_rule_imports_the_rule_type_and_nothing_else_of_the_project():
    for loaded in BOOK.rules.values():
        own = [line for line in loaded.file.read_text(encoding="utf-8").splitlines() if "import" in line.split("#")[0]]
        assert [line for line in own if "groundcheck" in line] == ["from groundcheck.audit import Rule"], loaded.name
