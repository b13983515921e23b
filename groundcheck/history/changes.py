"""Two audits side by side: which findings are new, cleared, persisting, worsened or improved, and why."""

from dataclasses import dataclass

import pandas as pd

from groundcheck.errors import NoSuchRun
from groundcheck.history.change_query import CHANGE, ENDED, ENDED_NOT_KEPT
from groundcheck.history.past import last_run
from groundcheck.history.policies import policy_changes, policy_entries
from groundcheck.history.records import FIELD, differences
from groundcheck.shortfall import further_off
from groundcheck.store import Store


@dataclass(frozen=True)
class Side:
    """One audit of a store."""

    store: Store
    run: int

    @property
    def latest(self) -> bool:
        """Whether the store's records and answers are still those of this audit."""
        return self.run == last_run(self.store)


def compare_latest(before: Store, after: Store) -> pd.DataFrame:
    """
    The last audit of one store against the last of another: the columns of audit.change.

    Raises
    ------
    NoSuchRun
        A store holds no audit.
    """
    return _compare(_side(before, last_run(before)), _side(after, last_run(after)))


def compare_runs(store: Store, before: int | None = None, after: int | None = None) -> pd.DataFrame:
    """
    Two audits of one store, by default the last two: the columns of audit.change.

    Raises
    ------
    NoSuchRun
        The store does not hold two, or not the one that is named; or they are not named in their order.
    """
    last = last_run(store)
    after = last if after is None else after
    before = after - 1 if before is None and after is not None else before
    if last == 1 and before == 0:
        raise NoSuchRun(f"{_name(store)} holds one audit; two are needed, or name a second store")
    old, new = _side(store, before), _side(store, after)
    if old.run >= new.run:
        raise NoSuchRun(f"audit {old.run} does not come before audit {new.run}; name the earlier one first")
    return _compare(old, new)


def write_changes(store: Store, run: int) -> None:
    """Write audit.change: the audit of that number against the one before."""
    store.clear("audit", "change")
    store.write("audit", "change", _compare(Side(store, run - 1), Side(store, run)))


def _side(store: Store, run: int | None) -> Side:
    known = [number for (number,) in store.connection.execute("SELECT run FROM audit.run ORDER BY run").fetchall()]
    if run is None or run not in known:
        holds = f"it holds audits {known[0]} to {known[-1]}" if known else "it holds none"
        raise NoSuchRun(f"{_name(store)} has no audit{f' {run}' if run is not None else ''}; {holds}")
    return Side(store, run)


def _name(store: Store) -> str:
    return str(store.path or "the store")


def _compare(old: Side, new: Side) -> pd.DataFrame:
    frames = {
        "old_finding": _findings(old),
        "new_finding": _findings(new),
        "shifted": _shifted(_findings(old), _findings(new), _share(new)),
        "old_rule": _rules(old),
        "new_rule": _rules(new),
        "changed_record": _record_changes(old, new),
        "policy_reason": _policy_reasons(old, new),
        "old_run": _run(old),
        "new_run": _run(new),
    }
    connection = new.store.connection
    for name, frame in frames.items():
        connection.register(name, frame)
    connection.execute(f"CREATE OR REPLACE TEMP TABLE ended AS {ENDED if new.latest else ENDED_NOT_KEPT}")
    try:
        return connection.execute(CHANGE).df()
    finally:
        for name in frames:
            connection.unregister(name)


def _findings(side: Side) -> pd.DataFrame:
    return side.store.frame("SELECT * FROM audit.past_finding WHERE run = ?", [side.run])


def _share(side: Side) -> float:
    """By how much a finding may shift and count as unchanged: as for waivers."""
    return float(policy_entries(str(_run(side).policy[0])).get("waiver.worsened", 0.0))


def _shifted(before: pd.DataFrame, after: pd.DataFrame, share: float) -> pd.DataFrame:
    """The findings of both audits whose numbers grew worse or better: finding, shift."""
    columns = ["finding", "actual_value", "required_value"]
    both = before[columns].merge(after[columns], on="finding", suffixes=("", "_now")).dropna()
    rows = []
    for finding, actual, required, actual_now, required_now in both.itertuples(index=False, name=None):
        if further_off(actual, required, actual_now, required_now, share):
            rows.append((finding, "worsened"))
        elif further_off(actual_now, required_now, actual, required, share):
            rows.append((finding, "improved"))
    return pd.DataFrame(rows, columns=["finding", "shift"], dtype="str")


def _rules(side: Side) -> pd.DataFrame:
    return side.store.frame("SELECT * FROM audit.past_rule WHERE run = ?", [side.run])


def _run(side: Side) -> pd.DataFrame:
    return side.store.frame("SELECT * FROM audit.run WHERE run = ?", [side.run])


def _record_changes(old: Side, new: Side) -> pd.DataFrame:
    """The fields that differ between the records of two audits: FIELD, before, after."""
    if old.store is new.store:
        return new.store.frame(
            f"""
            SELECT {FIELD}, arg_min(before, run, 1)[1] AS before, arg_max(after, run, 1)[1] AS after
            FROM (
                SELECT * REPLACE (coalesce(before, '') AS before, coalesce(after, '') AS after)
                FROM audit.record_change WHERE run > ? AND run <= ?
            )
            GROUP BY ALL HAVING before <> after
            """,
            [old.run, new.run],
        )
    kept = old.store.frame("SELECT * FROM audit.kept_record")
    new.store.connection.register("kept_before", kept)
    try:
        return new.store.frame(differences("SELECT * FROM kept_before", "SELECT * FROM audit.kept_record"))
    finally:
        new.store.connection.unregister("kept_before")


def _policy_reasons(old: Side, new: Side) -> pd.DataFrame:
    rules: dict[str, tuple[set[str], bool]] = {}
    for side in (old, new):
        frame = _rules(side)
        for rule, entries, computed in zip(frame.rule, frame.policy_entries, frame.computed, strict=True):
            rules[str(rule)] = ({str(entry) for entry in entries}, bool(computed))
    return policy_changes(_run(old).policy[0], _run(new).policy[0], rules)
