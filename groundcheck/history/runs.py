"""Keeping what an audit found, so that a later one can be held against it."""

import hashlib
from collections.abc import Mapping
from typing import Any

import pandas as pd

from groundcheck.history.changes import write_changes
from groundcheck.history.past import last_run
from groundcheck.history.records import write_record_changes
from groundcheck.store import Store


def keep_run(store: Store, run: Mapping[str, Any], rule_parts: Mapping[str, Mapping[str, Any]]) -> int:
    """
    Add the audit that the store holds to its history, and write audit.change against the one before.

    Parameters
    ----------
    run
        The row of audit.run but for its number.
    rule_parts
        For each rule that ran: `text`, all of it that decides its answers; `policy_entries`; `computed`, whether it
        reads the study.

    Returns
    -------
    int
        The number of the run, from 1.
    """
    number = (last_run(store) or 0) + 1
    with store.transaction():
        store.write("audit", "run", pd.DataFrame([{"run": number, **run}]))
        _keep_findings(store, number)
        _keep_rules(store, number, rule_parts)
        if store.path is not None:
            write_record_changes(store, number)
        if number > 1:
            write_changes(store, number)
    return number


def _keep_findings(store: Store, number: int) -> None:
    store.connection.execute(
        """
        INSERT INTO audit.past_finding BY NAME
        SELECT $run AS run, f.* EXCLUDE (source_file, sheet, cell, remedy, working, caution, basis), r.rests_on
        FROM audit.finding f
        LEFT JOIN (
            SELECT e.finding, list(DISTINCT e.input || ' of ' ||
                   if(contains(e.asset, ':'), e.asset, f.substation || ':' || e.asset)) AS rests_on
            FROM audit.evidence e JOIN audit.finding f USING (finding)
            WHERE NOT e.computed AND e.asset IS NOT NULL
            GROUP BY e.finding
        ) r USING (finding)
        ORDER BY f.finding
        """,
        {"run": number},
    )


def _keep_rules(store: Store, number: int, rule_parts: Mapping[str, Mapping[str, Any]]) -> None:
    rows = [
        {
            "run": number,
            "rule": name,
            "digest": hashlib.sha256(parts["text"].encode()).hexdigest()[:16],
            "policy_entries": list(parts["policy_entries"]),
            "computed": parts["computed"],
        }
        for name, parts in rule_parts.items()
    ]
    if not rows:
        return
    frame = pd.DataFrame(rows)
    store.connection.register("past_rules", frame)
    try:
        store.connection.execute(
            """
            INSERT INTO audit.past_rule BY NAME
            SELECT p.*, r.choices FROM past_rules p JOIN audit.rule r USING (rule) WHERE r.problem IS NULL
            ORDER BY p.rule
            """
        )
    finally:
        store.connection.unregister("past_rules")
