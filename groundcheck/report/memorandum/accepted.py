"""Findings that a person accepted until a date: those in force, and those that no longer hold."""

from typing import Any

from groundcheck.report.field_names import kind_in_words
from groundcheck.report.memorandum.by_part import NOTHING, listed_by_part
from groundcheck.report.memorandum.room import Room
from groundcheck.store import Store

STATES = {
    "in_force": "in force",
    "expired": "lapsed: the finding is open again",
    "worsened": "lapsed: the numbers are worse, the finding is open again",
    "finding_cleared": "no such finding any more",
}
_QUERY = """
    SELECT memo, w.state, w.remark, w.finding, w.substation, w.asset_kind, w.asset, w.item, w.rule, t.title,
           w.accepted_by, w.reason, strftime(w.until, '%Y-%m-%d') AS until,
           strftime(w.accepted_on, '%Y-%m-%d') AS accepted_on, w.severity, w.source_file AS file, w."place" AS told_in
    FROM memo_station JOIN audit.waiver w USING (substation)
    LEFT JOIN (SELECT DISTINCT ON (rule) rule, title FROM audit.rule WHERE problem IS NULL) t USING (rule)
"""
_ORDER = "CASE state WHEN 'in_force' THEN 1 WHEN 'expired' THEN 2 WHEN 'worsened' THEN 3 ELSE 4 END, until, finding"


def waivers(store: Store, parts: int, room: Room) -> list[dict[str, Any]]:
    """The waivers of each memorandum."""
    found = listed_by_part(store, _QUERY, _ORDER, room.rows)
    return [_listed(found.get(memo, NOTHING)) for memo in range(parts)]


def _listed(listed: dict[str, Any]) -> dict[str, Any]:
    rows = []
    for row in listed["rows"]:
        item = f", {row['item']}" if row["item"] else ""
        asset = f"{kind_in_words(row['asset_kind'])} {row['asset']}{item}"
        rows.append({**row, "state_in_words": STATES.get(row["state"], row["state"]), "asset": asset})
    return {**listed, "rows": rows}
