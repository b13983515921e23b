"""What a memorandum rests on: standards that the rules name, method, tolerances, and what the owner set."""

import re
import tomllib
from typing import Any

from groundcheck.policy import Policy, load_policy, override_policy
from groundcheck.report.memorandum.by_part import Row, rows_by_part
from groundcheck.report.rows import fetch
from groundcheck.store import Store

# Designations as rules write them; a second one of the same body may stand without its name.
_STANDARD = re.compile(
    r"IEEE (?:Std )?C?\d+(?:\.\d+)*(?:-\d{4})?|(?<![\w.])C\d+(?:\.\d+)+(?:-\d{4})?|IEC (?:TR |TS )?\d+(?:-\d+)*"
    r"|DIN VDE \d+(?:-\d+)*|NFPA \d+|NERC [A-Z]+-\d+(?:-\d+)*|ICEA"
)


def audit_of(store: Store) -> dict[str, Any]:
    """The audit that the store holds."""
    cursor = store.connection.execute(
        "SELECT run, made_at, as_of, version, method, tolerances, notices FROM audit.run ORDER BY run DESC LIMIT 1"
    )
    names = [column[0] for column in cursor.description or ()]
    row = cursor.fetchone() or (None,) * len(names)
    audit = dict(zip(names, row, strict=True))
    return {
        "number": audit["run"],
        "made_at": audit["made_at"],
        "made_on": (audit["made_at"] or "")[:10] or None,
        "as_of": str(audit["as_of"])[:10] if audit["as_of"] else None,
        "version": audit["version"],
        "method": audit["method"],
        "tolerances": audit["tolerances"],
        "notices": (audit["notices"] or "").splitlines(),
    }


def policy_differences(store: Store) -> dict[str, Any]:
    """Entries of the policy in force that differ from the shipped one, and what it says of single rules."""
    found = fetch(store, "SELECT policy FROM audit.run ORDER BY run DESC LIMIT 1")
    shipped = load_policy()
    tree = tomllib.loads(found[0][0]) if found and found[0][0] else {}
    choices = override_policy(Policy({}), {"rule": tree.pop("rule", [])}).choices
    entries = dict(_entries(tree))
    return {
        "entries": [
            {"entry": name, "value": _said(value), "shipped": _said(shipped.entries.get(name))}
            for name, value in entries.items()
            if value != shipped.entries.get(name)
        ],
        "rules": [f"{choice.name}: {choice.words}" for choice in choices],
    }


def rule_notes(store: Store) -> dict[int, list[Row]]:
    """Of each rule that asked about anything there: title, basis, and what it cannot see."""
    query = """
        SELECT memo, r.rule, r.title, r.basis, r.cannot_see
        FROM (SELECT memo, rule FROM memo_station JOIN audit.outcome USING (substation)
              GROUP BY ALL HAVING sum(satisfied + exceptions + not_assessable) > 0)
        JOIN (SELECT DISTINCT ON (rule) * FROM audit.rule WHERE problem IS NULL ORDER BY rule) r USING (rule)
        ORDER BY memo, r.rule
    """
    return rows_by_part(store, query)


def annex(notes: list[Row]) -> dict[str, Any]:
    """The rules with what each rests on and does not look at, and the standards that they name between them."""
    named = {standard for note in notes for standard in standards_in(note["basis"] or "")}
    return {"rules": notes, "standards": sorted(named, key=_in_order)}


def standards_in(basis: str) -> set[str]:
    """The designations in a text, whole: 'IEEE C57.12.00 and C37.06' names IEEE C57.12.00 and IEEE C37.06."""
    return {f"IEEE {found}" if found.startswith("C") else found for found in _STANDARD.findall(basis)}


def refused_rules(store: Store) -> list[str]:
    """Rules that did not run, and why."""
    query = "SELECT rule, problem FROM audit.rule WHERE problem IS NOT NULL ORDER BY ALL"
    return [f"{rule}: {problem}" for rule, problem in fetch(store, query)]


def _in_order(standard: str) -> list[tuple[bool, int, str]]:
    """IEC 869 before IEC 60071: numbers by size."""
    return [(part.isdigit(), int(part) if part.isdigit() else 0, part) for part in re.split(r"(\d+)", standard)]


def _entries(tree: dict[str, Any], prefix: str = "") -> list[tuple[str, Any]]:
    rows: list[tuple[str, Any]] = []
    for name, value in tree.items():
        full = f"{prefix}{name}"
        rows.extend(_entries(value, f"{full}.") if isinstance(value, dict) else [(full, value)])
    return rows


def _said(value: Any) -> str:
    if value is None:
        return "not in the shipped policy"
    return ("yes" if value else "no") if isinstance(value, bool) else str(value)
