"""A rule that is changed, added or taken away between two audits, and a rule that the policy silences."""

import pandas as pd
import pytest

import groundcheck
from groundcheck.policy import load_policy, override_policy

RULE = '''"""Buses below a limit of the owner's."""
from groundcheck.audit import Rule

RULE = Rule(
    title="Nominal voltage below the limit", severity="low", why="For the test.", basis="common practice, no source",
    asks="bus", inputs=("bus.nominal_voltage",),
    query="""
        SELECT substation, 'bus' AS asset_kind, bus AS asset, nominal_voltage AS actual, 1 * {limit} AS required,
               'kV' AS unit, nominal_voltage >= {limit} AS ok
        FROM inventory.bus
    """,
    message="{{actual}} kV", working="{{actual}} kV < {{required}} kV", remedy="none", caution="",
    examples={{"exception: low": {{"bus": [{{"substation": "ELM", "bus": "B1", "nominal_voltage": 1.0}}]}}}},
)
'''
TABLES = {
    "substation": pd.DataFrame([{"substation": "ELM", "district": "North"}]),
    "bus": pd.DataFrame([{"substation": "ELM", "bus": "B1", "nominal_voltage": 33.0}]),
}


@pytest.fixture
def change(tmp_path):
    """change(limit, policy): what the next audit of one store says of the rule's finding, None if nothing."""

    def audit(limit: float | None, **own: object) -> tuple[str, str, str] | None:
        file = tmp_path / "rules" / "own" / "voltage.py"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.unlink(missing_ok=True)
        if limit is not None:
            file.write_text(RULE.format(limit=limit))
        made = groundcheck.audit(
            TABLES, store=tmp_path / "s.duckdb", rules=[tmp_path / "rules"], policy=override_policy(load_policy(), own)
        )
        rows = made.sql("SELECT change, coalesce(now, ''), why FROM audit.change WHERE rule = 'own/voltage'").fetchall()
        made.store.close()
        return rows[0] if rows else None

    return audit


def test_each_step_says_what_changed(change):
    assert change(30.0) is None
    assert change(40.0) == ("new", "", "rule changed")
    assert change(50.0) == ("worsened", "", "rule changed")
    silent = {"rule": [{"name": "own/*", "asked": False}]}
    assert change(50.0, **silent) == ("cleared", "", "policy changed: not asked of the fleet")
    assert change(50.0) == ("new", "", "policy changed: it says nothing more of this rule")
    assert change(None) == ("cleared", "", "the rule is no longer run")
