"""The rules as the page tells them: what each asks, why, on whose authority, and how often it was answered how."""

from typing import Any

from groundcheck.report.cell_text import clean_text
from groundcheck.report.overview import rule_counts
from groundcheck.report.rows import fetch
from groundcheck.store import Store

_TEXTS = ("title", "severity", "why", "basis", "formula", "cannot_see", "caution", "choices")


def rules_shown(store: Store) -> dict[str, dict[str, Any]]:
    """By name of rule; a rule that was refused is not among them."""
    counts = {row[0]: [int(number) for number in row[3:7]] for row in rule_counts(store) if not row[7]}
    rows = fetch(store, f"SELECT rule, {', '.join(_TEXTS)} FROM audit.rule WHERE problem IS NULL ORDER BY rule")
    shown = {}
    for rule, *texts in rows:
        told: dict[str, Any] = {key: clean_text(text or "") for key, text in zip(_TEXTS, texts, strict=True)}
        subject, _, short = str(rule).rpartition("/")
        told |= {"subject": subject.replace("-", " ") or "of no subject", "short": short.replace("-", " ")}
        told |= {"counts": counts.get(rule, [0, 0, 0, 0]), "anchor": str(rule).replace("/", "--")}
        shown[clean_text(str(rule))] = told
    return shown
