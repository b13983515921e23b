"""What a rule must have before it may run."""

from collections.abc import Collection, Iterable
from typing import Any

from groundcheck.audit.examples import empty_answers
from groundcheck.audit.fault import RuleFault
from groundcheck.audit.question import AUDIT_DATE
from groundcheck.audit.rule import Rule
from groundcheck.audit.wording import placeholders
from groundcheck.nearest import nearest
from groundcheck.policy import Policy
from groundcheck.schema import INVENTORY_TABLES, STAGES
from groundcheck.schema.stages.audit import SEVERITIES

REQUIRED_TEXTS = ("title", "severity", "why", "basis", "asks", "query", "message", "working", "remedy")
ASKED = (*INVENTORY_TABLES, "zone", "record")  # record: whatever the answers name, of any kind


def check_rule(rule: Rule, policy: Policy) -> None:
    """
    Check every part of a rule but its query and its examples.

    Raises
    ------
    RuleFault
        The first fault found.
    """
    for name in REQUIRED_TEXTS:
        value = getattr(rule, name)
        if not isinstance(value, str) or not value.strip():
            raise RuleFault(f"`{name}` is {value!r}; a text is expected", name)
    for name in ("caution", "cannot_see", "formula"):
        if not isinstance(getattr(rule, name), str):
            raise RuleFault(f"`{name}` is {getattr(rule, name)!r}; a text is expected, which may be empty", name)
    if rule.severity not in SEVERITIES:
        raise RuleFault(f"`severity` is '{rule.severity}'; high, medium or low is expected", "severity")
    if rule.asks not in ASKED:
        raise RuleFault(f"`asks` is '{rule.asks}', which is no kind of asset; {_nearest(rule.asks, ASKED)}", "asks")
    if not isinstance(rule.inputs, tuple) or not rule.inputs:
        raise RuleFault("`inputs` must be a tuple of 'table.column', one at least", "inputs")
    for each in rule.inputs:
        _check_input(each)
    _check_policy(rule.policy, policy)
    if not isinstance(rule.examples, dict) or not all(isinstance(each, dict) for each in rule.examples.values()):
        raise RuleFault("`examples` must map a label to tables", "examples")
    if not rule.examples:
        raise RuleFault("the rule has no examples; one of each outcome is expected", "examples")


def try_query(rule: Rule) -> None:
    """
    Run a rule's query on empty tables, and check that it returns what the texts need.

    Raises
    ------
    RuleFault
        The query may not run, fails, or lacks a column.
    """
    check_texts(rule, empty_answers(rule).column_names)


def check_texts(rule: Rule, columns: Collection[str]) -> None:
    """
    Check that message, working and remedy ask only for columns that the query returns.

    Raises
    ------
    RuleFault
        A text asks for another.
    """
    for part in ("message", "working", "remedy"):
        for name in placeholders(getattr(rule, part), part):
            if name not in columns and name not in rule.policy and name != AUDIT_DATE:
                raise RuleFault(f"the {part} needs the column `{name}`, which the query does not return", part)


def input_table(each: str) -> tuple[str, str, str]:
    """Stage, table and column of an input 'table.column'."""
    table, _, column = each.partition(".")
    stage = "inventory" if table in INVENTORY_TABLES else "study"
    return stage, table, column


def _check_input(each: Any) -> None:
    if not isinstance(each, str) or each.count(".") != 1:
        raise RuleFault(f"the input {each!r} is not written 'table.column'", "inputs", str(each))
    stage, table, column = input_table(each)
    model = INVENTORY_TABLES.get(table) or STAGES["study"].get(table)
    if model is None:
        tables = (*INVENTORY_TABLES, *STAGES["study"])
        raise RuleFault(
            f"the input `{each}` names no table of inventory or study; {_nearest(table, tables)}", "inputs", each
        )
    if column not in model.columns():
        near = _nearest(each, [f"{table}.{name}" for name in model.columns()])
        raise RuleFault(f"the input `{each}` names no column of {stage}.{table}; {near}", "inputs", each)


def _check_policy(entries: Any, policy: Policy) -> None:
    if not isinstance(entries, dict):
        raise RuleFault("`policy` must map a short name to a policy entry", "policy")
    for name, entry in entries.items():
        if entry not in policy.entries:
            raise RuleFault(f"no policy entry `{entry}`; {_nearest(str(entry), policy.entries)}", "policy", str(entry))
        if not str(name).isidentifier() or name == AUDIT_DATE:
            raise RuleFault(
                f"the short name '{name}' of a policy entry is taken, or no identifier", "policy", str(name)
            )


def _nearest(name: str, known: Iterable[str]) -> str:
    return f"nearest is `{nearest(name, known)}`"
