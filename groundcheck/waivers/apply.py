"""Marking the findings that are waived, and keeping every waiver with what has become of it."""

from datetime import date
from typing import Any

import pandas as pd

from groundcheck.policy import Policy
from groundcheck.store import Store
from groundcheck.waivers.gather import Gathered
from groundcheck.waivers.waiver import ACCEPTED, SUBJECT, Disposition, Waiver
from groundcheck.waivers.worsening import FoundNow, worsened

_OUTCOMES = {
    "satisfied": "no finding any more: satisfied",
    "not_assessable": "no finding any more, but not assessable: what was on record is not",
}
_NOT_ASKED = "no finding any more: not asked in this audit"
_NOT_COMPARED = "its numbers at acceptance are not on record, so that a worse finding could not be told"


def apply_waivers(store: Store, gathered: Gathered, policy: Policy, as_of: date) -> None:
    """
    Set status and waiver of each finding, and write audit.waiver and audit.disposition anew.

    A waiver holds through its last day. One that has expired, or whose finding has become worse, leaves the finding
    open, which then says so.
    """
    found = _findings(store)
    store.clear("audit", "waiver", "disposition")
    store.connection.execute("UPDATE audit.finding SET status = 'open', waiver = NULL")
    share = float(policy["waiver.worsened"])
    rows, told = [], []
    for waiver in gathered.waivers.values():
        state, remark, sentence = _judge(waiver, found.get(waiver.finding), share, as_of, store)
        rows.append(_waiver_row(waiver, found.get(waiver.finding)) | {"state": state, "remark": remark})
        if sentence is not None:
            status = "waived" if state == "in_force" else "open"
            told.append({"finding": waiver.finding, "status": status, "waiver": sentence})
    _tell_findings(store, told)
    store.write("audit", "waiver", _frame(rows))
    counting = {id(each) for each in gathered.dispositions.values()}
    every = [*gathered.dispositions.values(), *(each for each in gathered.said if id(each) not in counting)]
    store.write("audit", "disposition", _frame([_disposition_row(each, id(each) in counting) for each in every]))


def _judge(
    waiver: Waiver, now: FoundNow | None, share: float, as_of: date, store: Store
) -> tuple[str, str | None, str | None]:
    """State of a waiver, what it rests on, and what its finding says of it."""
    if now is None:
        return "finding_cleared", _outcome(waiver, store), None
    if as_of > waiver.until:
        return "expired", f"expired {waiver.until}", f"waiver by {waiver.by} expired {waiver.until}"
    if worse := worsened(waiver, now, share):
        return "worsened", worse, f"worse than when {waiver.by} waived it: {worse}"
    known = any(value is not None for value in (waiver.actual, waiver.required))
    sentence = f"waived by {waiver.by} until {waiver.until}: {waiver.reason}"
    return "in_force", None if known else _NOT_COMPARED, sentence


def _outcome(waiver: Waiver, store: Store) -> str:
    """How the question ended that once was a finding."""
    whose = [getattr(waiver, name) for name in SUBJECT]
    query = """
        SELECT outcome FROM audit.result
        WHERE rule = ? AND substation = ? AND asset_kind = ? AND asset = ? AND coalesce(item, '') = ?
    """
    rows = store.connection.execute(query, [*whose, waiver.item or ""]).fetchall() if all(whose) else []
    return _OUTCOMES.get(rows[0][0], _NOT_ASKED) if rows else _NOT_ASKED if all(whose) else "no finding any more"


def _findings(store: Store) -> dict[str, FoundNow]:
    names = ", ".join(FoundNow.__dataclass_fields__)
    return {row[0]: FoundNow(*row) for row in store.connection.execute(f"SELECT {names} FROM audit.finding").fetchall()}


def _tell_findings(store: Store, told: list[dict[str, str]]) -> None:
    if not told:
        return
    store.connection.register("told_of_findings", pd.DataFrame(told))
    try:
        store.connection.execute(
            """
            UPDATE audit.finding SET status = t.status, waiver = t.waiver
            FROM told_of_findings t WHERE audit.finding.finding = t.finding
            """
        )
    finally:
        store.connection.unregister("told_of_findings")


def _waiver_row(waiver: Waiver, now: FoundNow | None) -> dict[str, Any]:
    """The row of audit.waiver; what names the finding is taken from it where the file does not say."""
    named = {name: getattr(waiver, name) or (getattr(now, name) if now else None) for name in (*SUBJECT, "item")}
    numbers: dict[str, Any] = {}
    for side in ("actual", "required"):
        value = getattr(waiver, side)
        numbers[side], numbers[f"{side}_value"] = (None, value) if isinstance(value, float) else (value, None)
    return {
        **{name: getattr(waiver, name) for name in ("finding", "reason", "until", "accepted_on", "severity", "unit")},
        **named,
        **numbers,
        "accepted_by": waiver.by,
        "source_file": waiver.source,
        "place": waiver.place,
        "by_hand": waiver.by_hand,
        "replaces": list(waiver.over),
    }


def _disposition_row(told: Disposition, counts: bool) -> dict[str, Any]:
    return {
        **{name: getattr(told, name) for name in ("finding", "disposition", "until", "remark", "place")},
        "said_by": told.by,
        "counts": counts and told.disposition != ACCEPTED,
        "source_file": told.source,
        "replaces": list(told.over),
    }


def _frame(rows: list[dict[str, Any]]) -> pd.DataFrame:
    return pd.DataFrame(rows, dtype=object)


def gathered_in(store: Store) -> Gathered:
    """What an audit was told of its findings, from its store."""
    gathered = Gathered()
    for row in _rows(store, "waiver"):
        value: dict[str, Any] = {
            side: row[f"{side}_value"] if row[side] is None else row[side] for side in ("actual", "required")
        }
        same = ("finding", "reason", "until", "accepted_on", *SUBJECT, "item", "severity", "unit", "by_hand", "place")
        over = tuple(row["replaces"] or ())
        facts: dict[str, Any] = {name: row[name] for name in same} | value
        told_in = {"by": row["accepted_by"], "source": row["source_file"], "over": over}
        gathered.waivers[row["finding"]] = Waiver(**(facts | told_in))
    for row in _rows(store, "disposition"):
        facts = {name: row[name] for name in ("finding", "disposition", "until", "remark", "place")}
        told_in = {"by": row["said_by"], "source": row["source_file"], "over": tuple(row["replaces"] or ())}
        told = Disposition(**(facts | told_in))
        gathered.said.append(told)
        if row["counts"]:
            gathered.dispositions[told.finding] = told
    return gathered


def _rows(store: Store, table: str) -> list[dict[str, Any]]:
    cursor = store.connection.execute(f'SELECT * FROM audit."{table}" ORDER BY ALL')
    names = [column[0] for column in cursor.description or ()]
    return [dict(zip(names, row, strict=True)) for row in cursor.fetchall()]
