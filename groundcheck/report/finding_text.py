"""One finding as text: what is wrong, how it was worked out, from which cells, what to do, and what it was before."""

from typing import Any

from groundcheck.audit.wording import in_digits
from groundcheck.errors import NoSuchFinding
from groundcheck.history import past_findings
from groundcheck.nearest import nearest
from groundcheck.report.cautions import CAUTION_LINE
from groundcheck.report.cell_text import clean_text
from groundcheck.report.field_names import kind_in_words
from groundcheck.report.rows import fetch
from groundcheck.store import Store

_COLUMNS = (
    "finding, severity, substation, asset_kind, asset, item, message, actual, required, unit, robustness, provisional, "
    "actual_low, actual_high, required_low, required_high, source_file, sheet, cell, working, remedy, caution, rule, "
    "basis, status, waiver, district"
)


def finding_text(store: Store, identity: str) -> str:
    """
    The finding, its working line by line, its inputs with their cells, what is assumed behind it, and its history.

    Raises
    ------
    NoSuchFinding
        The store does not hold it; the nearest identity is named.
    """
    row = _finding(store, identity)
    blocks = [
        _facts(row),
        ["working:", *(f"  {line}" for line in str(row["working"] or "").splitlines())],
        ["evidence:", *(_evidence(store, identity, "input") or ["  none on record"])],
    ]
    basis = _evidence(store, identity, "basis")
    if basis:
        blocks.append(["the computed ones come from, nearest first:", *basis])
    assumed = _assumptions(store, identity)
    if assumed:
        blocks.append(["assumed, for want of a record:", *assumed])
    blocks += [["history:", *_history(store, identity)], [CAUTION_LINE]]
    return "\n\n".join("\n".join(clean_text(line) for line in block) for block in blocks)


def _finding(store: Store, identity: str) -> dict[str, Any]:
    found = fetch(
        store,
        f"SELECT {_COLUMNS}, formula, cannot_see FROM audit.finding f "
        "LEFT JOIN (SELECT rule, formula, cannot_see FROM audit.rule WHERE problem IS NULL) r USING (rule) "
        "WHERE finding = ?",
        [identity],
    )
    if not found:
        known = [row[0] for row in fetch(store, "SELECT finding FROM audit.finding ORDER BY finding")]
        hint = f"nearest is {nearest(identity, known)}" if known else "it holds none"
        raise NoSuchFinding(f"no finding {identity} in the store; {hint}")
    return dict(zip((*_COLUMNS.split(", "), "formula", "cannot_see"), found[0], strict=True))


def _facts(row: dict[str, Any]) -> list[str]:
    certainty = (row["robustness"] or "") + (", provisional: rests on an assumed value" if row["provisional"] else "")
    item = f", {row['item']}" if row["item"] else ""
    facts = {
        "finding": f"{row['finding']} ({row['status']})",
        "waiver": row["waiver"],
        "severity": row["severity"],
        "asset": f"{row['substation']}, {kind_in_words(row['asset_kind'])} {row['asset']}{item}",
        "district": row["district"],
        "what is wrong": row["message"],
        "actual": _within(row, "actual"),
        "required": _within(row, "required"),
        "certainty": certainty,
        "source": _place(row["source_file"], row["sheet"], row["cell"]),
        "remedy": row["remedy"],
        "caution": row["caution"],
        "rule": row["rule"],
        "basis": row["basis"],
        "formula": row["formula"],
        "cannot see": row["cannot_see"],
    }
    return [f"{name + ':':<15}{value}" for name, value in facts.items() if value]


def _within(row: dict[str, Any], side: str) -> str | None:
    """The value with its unit, and the interval that tolerances and gaps leave it, where there is one."""
    shown = _with_unit(row[side], row["unit"])
    low, high = row[f"{side}_low"], row[f"{side}_high"]
    if shown is None or low is None or high is None or low == high:
        return shown
    between = f"{in_digits(low)} to {_with_unit(in_digits(high), row['unit'])}"
    return f"{shown}, within its tolerances {between}"


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
        lines.append(f"  {what} = {shown}{origin}")
    return lines


def _assumptions(store: Store, identity: str) -> list[str]:
    """The typical values that stand in for blank fields of the assets behind a finding."""
    query = """
        SELECT DISTINCT a.asset_kind || '.' || a.field,
               if(a.substation = f.substation, '', a.substation || ':') || a.asset, a.value, a.why
        FROM audit.finding f
        JOIN audit.evidence e USING (finding)
        JOIN study.assumption a
          ON a.asset_kind = split_part(e.input, '.', 1)
         AND e.asset IN (if(a.substation = f.substation, a.asset, NULL), a.substation || ':' || a.asset)
        WHERE f.finding = ? AND coalesce(f.provisional, FALSE)
        ORDER BY ALL
    """
    return [f"  {field} of {asset} = {value}: {why}" for field, asset, value, why in fetch(store, query, [identity])]


def _history(store: Store, identity: str) -> list[str]:
    """What each audit of the store said of it, in runs of audits that said the same."""
    lines: list[str] = []
    said: object = ()
    for past in past_findings(store, identity):
        now = (past["message"], past["severity"], past["status"], past["waiver"])
        if now == said:
            continue
        said = now
        state = f"{past['status']}, {past['severity']}: {past['message']}" if past["message"] else "no finding"
        waiver = f" ({past['waiver']})" if past["waiver"] else ""
        lines.append(f"  from audit {past['run']} of {past['made_at']}: {state}{waiver}")
    return lines or ["  no audit is kept"]


def _with_unit(value: str | None, unit: str | None) -> str | None:
    """The value with its unit; words such as 'without limit' take none."""
    return f"{value} {unit}" if value and unit and value[-1].isdigit() else value


def _place(*parts: Any) -> str:
    return " · ".join(str(part) for part in parts if part)
