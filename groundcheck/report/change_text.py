"""What changed between two audits, as text."""

import pandas as pd

from groundcheck.report.cell_text import clean_text
from groundcheck.report.field_names import kind_in_words

ORDER = ("new", "worsened", "improved", "persisting", "cleared")
LISTED = ("new", "worsened", "improved", "cleared")


def counts_text(counts: dict[str, int]) -> str:
    """'3 new, 1 worsened, 0 improved, 30 persisting, 2 cleared'."""
    return ", ".join(f"{counts.get(name, 0):,} {name}" for name in ORDER)


def changes_text(changes: pd.DataFrame) -> str:
    """The counts, then every finding that is not as it was: what is or was wrong, and why that changed."""
    counts = {str(name): int(number) for name, number in changes["change"].value_counts().items()}
    lines = [counts_text(counts)]
    for name in LISTED:
        group = changes[changes["change"] == name]
        if len(group):
            lines += ["", name]
        for row in group.to_dict("records"):
            lines += [clean_text(line) for line in _entry({str(key): value for key, value in row.items()})]
    return "\n".join(lines)


def _entry(row: dict[str, object]) -> list[str]:
    told = {key: str(value) for key, value in row.items() if value is not None and not pd.isna(value)}  # type: ignore[call-overload]
    severity = told.get("severity") or told.get("severity_before", "")
    asset = f"{kind_in_words(told['asset_kind'])} {told['asset']}"
    head = f"  {severity:<7}{told['finding']}  {told['substation']}, {asset}: {told['rule']}"
    lines = [head]
    if row["change"] == "cleared":
        lines.append(f"         was: {told.get('message_before', '')}")
        lines.append(f"         now: {told.get('now', 'not asked, or not on record')}")
    else:
        lines.append(f"         {told.get('message', '')}")
    if row["change"] in ("worsened", "improved"):
        lines.append(f"         was: {told.get('message_before', '')}")
    if told.get("severity_before", severity) != severity:
        lines.append(f"         severity was {told['severity_before']}")
    lines.append(f"         why: {told.get('why', 'not known')}")
    return lines


def audits_text(runs: pd.DataFrame) -> str:
    """The audits of a store, a line each."""
    lines = []
    for row in runs.to_dict("records"):
        day = "" if pd.isna(row["as_of"]) else f", as of {row['as_of']:%Y-%m-%d}"
        waived = f", {row['waived']} of them waived" if row["waived"] else ""
        lines.append(f"{row['run']:>4}  {row['made_at']}{day}  {row['findings']} findings{waived}  ({row['version']})")
    return "\n".join(lines) or "no audit"
