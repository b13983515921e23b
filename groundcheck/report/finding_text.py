"""One finding as text: what is wrong, how it was worked out, from which cells, what to do, what to beware of."""

from typing import Any

from groundcheck.errors import NoSuchFinding
from groundcheck.nearest import nearest
from groundcheck.report.cautions import CAUTION_LINE
from groundcheck.report.cell_text import clean_text
from groundcheck.report.field_names import kind_in_words
from groundcheck.report.rows import fetch
from groundcheck.store import Store

_COLUMNS = (
    "finding, severity, substation, asset_kind, asset, message, actual, required, unit, robustness, provisional, "
    "source_file, sheet, cell, working, remedy, caution, rule, basis, status, district"
)


def finding_text(store: Store, identity: str) -> str:
    """
    The finding and its evidence.

    Raises
    ------
    NoSuchFinding
        The store does not hold it; the nearest identity is named.
    """
    found = fetch(store, f"SELECT {_COLUMNS} FROM audit.finding WHERE finding = ?", [identity])
    if not found:
        known = [row[0] for row in fetch(store, "SELECT finding FROM audit.finding ORDER BY finding")]
        hint = f"nearest is {nearest(identity, known)}" if known else "it holds none"
        raise NoSuchFinding(f"no finding {identity} in the store; {hint}")
    row = dict(zip(_COLUMNS.split(", "), found[0], strict=True))
    certainty = (row["robustness"] or "") + (", provisional: rests on an assumed value" if row["provisional"] else "")
    facts = {
        "finding": f"{row['finding']} ({row['status']})",
        "severity": row["severity"],
        "asset": f"{row['substation']}, {kind_in_words(row['asset_kind'])} {row['asset']}",
        "district": row["district"],
        "what is wrong": row["message"],
        "actual": _with_unit(row["actual"], row["unit"]),
        "required": _with_unit(row["required"], row["unit"]),
        "certainty": certainty,
        "source": _place(row["source_file"], row["sheet"], row["cell"]),
        "working": row["working"],
        "remedy": row["remedy"],
        "caution": row["caution"],
        "rule": row["rule"],
        "basis": row["basis"],
    }
    lines = [f"{name + ':':<15}{clean_text(str(value))}" for name, value in facts.items() if value]
    inputs, basis = _evidence(store, identity, "input"), _evidence(store, identity, "basis")
    behind = ["", "the computed ones come from, nearest first:", *basis] if basis else []
    return "\n".join([*lines, "", "evidence:", *(inputs or ["  none on record"]), *behind, "", CAUTION_LINE])


def _evidence(store: Store, identity: str, role: str) -> list[str]:
    query = """
        SELECT input, asset, value, unit, source_file, sheet, cell, found FROM audit.evidence
        WHERE finding = ? AND role = ? ORDER BY position, input, asset, cell
    """
    lines = []
    for name, asset, value, unit, file, sheet, cell, text in fetch(store, query, [identity, role]):
        what = f"{name} of {asset}" if asset else name
        shown = _with_unit(value, unit) or "not on record"
        place = _place(file, sheet, cell)
        found = f", found '{text}'" if text is not None else ""
        origin = f" ({place}{found})" if place else " (computed)" if value is not None else ""
        lines.append(clean_text(f"  {what} = {shown}{origin}"))
    return lines


def _with_unit(value: str | None, unit: str | None) -> str | None:
    """The value with its unit; words such as 'without limit' take none."""
    return f"{value} {unit}" if value and unit and value[-1].isdigit() else value


def _place(*parts: Any) -> str:
    return " · ".join(str(part) for part in parts if part)
