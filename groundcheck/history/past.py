"""Reading what is kept of earlier audits."""

from typing import Any

import pandas as pd

from groundcheck.store import Store


def last_run(store: Store) -> int | None:
    """The number of the last audit that the store holds; None if it holds none."""
    row = store.connection.execute("SELECT max(run) FROM audit.run").fetchone()
    return int(row[0]) if row and row[0] is not None else None


def past_runs(store: Store) -> pd.DataFrame:
    """The audits that the store holds, the oldest first, with the count of their findings."""
    return store.frame(
        """
        SELECT r.run, r.made_at, r.version, r.as_of, count(f.finding) AS findings,
               count(f.finding) FILTER (f.status = 'waived') AS waived
        FROM audit.run r LEFT JOIN audit.past_finding f USING (run)
        GROUP BY ALL ORDER BY r.run
        """
    )


def past_findings(store: Store, finding: str) -> list[dict[str, Any]]:
    """What each audit of the store said of one finding, the oldest first; `message` is None where it was none."""
    rows = store.connection.execute(
        """
        SELECT r.run, r.made_at, f.severity, f.status, f.waiver, f.actual, f.required, f.unit, f.message
        FROM audit.run r LEFT JOIN audit.past_finding f ON f.run = r.run AND f.finding = ?
        ORDER BY r.run
        """,
        [finding],
    )
    names = [column[0] for column in rows.description or ()]
    return [dict(zip(names, row, strict=True)) for row in rows.fetchall()]
