"""A store filled by hand, and rules made for the point of one test."""

import textwrap
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from groundcheck.audit import LoadedRule, Rule, Rulebook, run_rules
from groundcheck.policy import load_policy
from groundcheck.store import Store

RATED_CURRENT = """
    SELECT d.substation, 'neutral_device' AS asset_kind, d.neutral_device AS asset,
           d.rated_current AS actual, u.current_a AS required, 'A' AS unit, actual >= required AS ok
    FROM inventory.neutral_device d
    LEFT JOIN study.neutral_duty u USING (substation, neutral_device)
    WHERE d.kind = 'resistor'
"""


@pytest.fixture
def store() -> Iterator[Store]:
    with Store() as store:
        yield store


@pytest.fixture
def put(store: Store) -> Callable[..., None]:
    """put("inventory.bus", {...}, {...}): write rows to a table."""

    def write(table: str, *rows: dict[str, Any]) -> None:
        stage, name = table.split(".")
        store.write(stage, name, pd.DataFrame(list(rows)))

    return write


@pytest.fixture
def make_rule() -> Callable[..., Rule]:
    """A rule about resistors, with whatever fields the test needs otherwise."""

    def make(**fields: Any) -> Rule:
        parts = {
            "title": "Resistor rated below its duty",
            "severity": "high",
            "why": "It may burn open.",
            "basis": "common practice, no source",
            "asks": "neutral_device",
            "inputs": ("neutral_device.rated_current", "neutral_duty.current_a"),
            "query": RATED_CURRENT,
            "message": "{asset} is rated {actual:.0f} A; its duty is {required:.0f} A",
            "working": "{actual:.0f} A against {required:.0f} A",
            "remedy": "a resistor of {required:.0f} A or more",
            "caution": "",
            "examples": {},
        }
        return Rule(**(parts | fields))

    return make


@pytest.fixture
def run(store: Store) -> Callable[..., None]:
    """run(rule, ...) or run(name=rule): run rules under their names, a rule without name as 'own/rule'."""

    def run_them(rule: Rule | None = None, **named: Rule) -> None:
        rules = {name.replace("__", "/"): each for name, each in named.items()}
        if rule is not None:
            rules["own/rule"] = rule
        book = Rulebook(
            {name: LoadedRule(name, "own", f"{name}.py", Path(f"{name}.py"), r) for name, r in rules.items()}
        )
        run_rules(store, book, load_policy())

    return run_them


@pytest.fixture
def rows(store: Store) -> Callable[..., list[tuple[Any, ...]]]:
    """rows("SELECT ..."): all rows of a query."""
    return lambda query: store.connection.execute(query).fetchall()


@pytest.fixture
def rule_file() -> Callable[..., Path]:
    """rule_file(path, **fields): write a rule module whose fields are Python expressions."""

    def write(path: Path, **fields: str) -> Path:
        parts = {
            "title": "'Bus without declared grounding'",
            "severity": "'low'",
            "why": "'Nobody knows.'",
            "basis": "'common practice, no source'",
            "asks": "'bus'",
            "inputs": "('bus.declared_grounding',)",
            "query": textwrap.dedent('''
                """
                SELECT substation, 'bus' AS asset_kind, bus AS asset, declared_grounding AS actual,
                       NULL AS required, NULL AS unit, declared_grounding IS NOT NULL AS ok
                FROM inventory.bus
                """''').strip(),
            "message": "'{asset}'",
            "working": "'{asset}'",
            "remedy": "'ask for it'",
            "caution": "''",
            "examples": "{'exception: not on record': {'bus': [{'substation': 'ELM', 'bus': 'B1'}]}}",
        } | fields
        body = "".join(f"{name}={value},\n" for name, value in parts.items() if value)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(f"from groundcheck.audit import Rule\n\nRULE = Rule(\n{body})\n", encoding="utf-8")
        return path

    return write
