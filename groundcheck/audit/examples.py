"""A rule's examples: small inventories, and the outcome that each must give."""

import math
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import Any

import duckdb
import pyarrow as pa

from groundcheck.audit.answers import keep_answers
from groundcheck.audit.cells import place_assets
from groundcheck.audit.fault import RuleFault
from groundcheck.audit.missing import trace_missing
from groundcheck.audit.question import ask, rule_parameters
from groundcheck.audit.rule import Rule
from groundcheck.audit.wording import fill
from groundcheck.policy import Policy, load_policy
from groundcheck.schema import STAGES, sql_columns
from groundcheck.store import Store

OUTCOMES = ("exception", "satisfied", "not assessable", "not applicable")
SHOWN_OUTCOMES = OUTCOMES[:3]
EXAMPLE_DATE = date(2026, 1, 1)
EXAMPLE_TABLES = {name: (stage, model) for stage in ("inventory", "study") for name, model in STAGES[stage].items()}


@dataclass(frozen=True)
class Answer:
    """What a rule says of one asset: its outcome, and all columns that the texts can use."""

    outcome: str
    row: dict[str, Any]


def run_example(rule: Rule, tables: Mapping[str, Any]) -> list[Answer]:
    """
    The rule's answers for a small inventory.

    `tables` maps the name of a table of inventory or study to its rows; a column that a row lacks is NULL. The entry
    `policy` sets the rule's policy entries by their short names; the rest are those of the shipped policy.

    Raises
    ------
    RuleFault
        A table, column or policy name does not exist, a value does not fit its column, or the query is at fault.
    """
    with example_answers(rule, tables) as (_, answers, parameters):
        return [Answer(_outcome(row["ok"]), {**parameters, **row}) for row in answers.to_pylist()]


def trace_example(rule: Rule, tables: Mapping[str, Any]) -> dict[str, list[str]]:
    """
    The fields that each answer of an example which is not assessable lacks, 'kind.field', by asset.

    Raises
    ------
    RuleFault
        As for run_example.
    """
    with example_answers(rule, tables) as (store, answers, _):
        place_assets(store)
        keep_answers(store, answers)
        trace_missing(store, rule, answers.column_names)
        rows = store.connection.execute(
            """
            SELECT a.asset || coalesce(' ' || a.item, ''), list(DISTINCT l.kind || '.' || l.field)
                   FILTER (l.field IS NOT NULL)
            FROM answer a LEFT JOIN lack l USING (answer_number) WHERE a.ok IS NULL GROUP BY ALL
            """
        ).fetchall()
    return {asset: sorted(fields or ()) for asset, fields in rows}


def example_parameters(rule: Rule) -> dict[str, Any]:
    """What a rule's query is given in its examples, where they do not say otherwise."""
    return rule_parameters(rule, _shipped_policy(), EXAMPLE_DATE)


@contextmanager
def example_answers(rule: Rule, tables: Mapping[str, Any]) -> Iterator[tuple[Store, pa.Table, dict[str, Any]]]:
    """The small store with the tables in it, the rule's answers and its parameters; emptied on leaving."""
    parameters = example_parameters(rule)
    for name, value in tables.get("policy", {}).items():
        if name not in parameters:
            raise RuleFault(
                f"an example sets the policy entry `{name}`, which the rule does not list", "examples", name
            )
        parameters[name] = value
    store = _example_store()
    names = [name for name in tables if name != "policy"]
    try:
        for name in names:
            _fill_table(store, name, tables[name])
        yield store, ask(store, rule, parameters), parameters
    finally:
        for name in names:
            if name in EXAMPLE_TABLES:
                store.clear(EXAMPLE_TABLES[name][0], name)


def empty_answers(rule: Rule) -> pa.Table:
    """
    The rule's answers where nothing is on record: no rows, and the columns that its query returns.

    Raises
    ------
    RuleFault
        The query is at fault.
    """
    return ask(_example_store(), rule, example_parameters(rule))


def check_examples(rule: Rule) -> list[str]:
    """What is wrong with a rule's examples and texts, a sentence each; empty if nothing is."""
    shown = [outcome for outcome in SHOWN_OUTCOMES if outcome != "not assessable" or not rule.always_assessable]
    problems = [
        f"no example is labelled '{outcome}: ...'"
        for outcome in shown
        if not any(_expected(label) == outcome for label in rule.examples)
    ]
    for label, tables in rule.examples.items():
        problems.extend(f"example '{label}': {problem}" for problem in check_example(rule, label, tables))
    return problems


def check_example(rule: Rule, label: str, tables: Mapping[str, Any]) -> list[str]:
    """What is wrong with one example; empty if it gives what its label says and its texts can be filled in."""
    expected = _expected(label)
    if expected is None:
        return [f"the label must start with one of {', '.join(OUTCOMES)}, then a colon"]
    try:
        answers = run_example(rule, tables)
    except RuleFault as fault:
        return [fault.why]
    if expected == "not applicable":
        return [f"{answer.row['asset']} is {answer.outcome}; no row was expected" for answer in answers]
    if not answers:
        return [f"nothing is asked; {expected} was expected"]
    problems = [
        f"{answer.row['asset']} is {answer.outcome}; {expected} was expected"
        for answer in answers
        if answer.outcome != expected
    ]
    for answer in answers:
        for part in ("message", "working", "remedy"):
            try:
                fill(getattr(rule, part), answer.row, part)
            except RuleFault as fault:
                problems.append(fault.why)
    return problems


def _expected(label: str) -> str | None:
    outcome, colon, _ = label.partition(":")
    return outcome if colon and outcome in OUTCOMES else None


def _outcome(ok: bool | None) -> str:
    return "not assessable" if ok is None else "satisfied" if ok else "exception"


@lru_cache(maxsize=1)
def _example_store() -> Store:
    return Store()


@lru_cache(maxsize=1)
def _shipped_policy() -> Policy:
    return load_policy()


def _fill_table(store: Store, name: str, rows: list[dict[str, Any]]) -> None:
    if name not in EXAMPLE_TABLES:
        raise RuleFault(f"an example has the table `{name}`, which neither inventory nor study has", "examples", name)
    stage, model = EXAMPLE_TABLES[name]
    known = sql_columns(model)
    for row in rows:
        for column in row:
            if column not in known:
                raise RuleFault(
                    f"an example has the column `{name}.{column}`, which does not exist", "examples", column
                )
        columns = ", ".join(f'"{column}"' for column in row)
        marks = ", ".join("?" for _ in row)
        values = [None if isinstance(value, float) and math.isnan(value) else value for value in row.values()]
        try:
            store.connection.execute(f'INSERT INTO {stage}."{name}" ({columns}) VALUES ({marks})', values)
        except duckdb.Error as error:
            reason = str(error).splitlines()[0]
            raise RuleFault(f"an example's row of `{name}` does not fit ({reason})", "examples", name) from error
