"""The findings as the page's table shows them: a row each, worst first."""

from typing import Any

from groundcheck.report.cell_text import clean_text
from groundcheck.report.field_names import kind_in_words
from groundcheck.report.page.margin import margin
from groundcheck.report.page.packing import coded_table
from groundcheck.report.rows import severity_order
from groundcheck.store import Store

NO_DISTRICT = "district not on record"
COLUMNS = (
    *("finding", "severity", "status", "certainty", "district", "substation", "name", "kind", "asset", "rule"),
    *("message", "actual", "required", "unit", "margin", "change", "runs", "place", "remedy"),
)

_QUERY = f"""
    WITH seen AS (
        SELECT finding, list(run ORDER BY run) AS runs FROM audit.past_finding GROUP BY ALL
    ), told AS (
        SELECT finding, any_value(change) AS change FROM audit.change WHERE change <> 'cleared' GROUP BY ALL
    ), station AS (
        SELECT substation, any_value(name) AS name FROM inventory.substation GROUP BY ALL
    )
    SELECT f.finding, f.severity, f.status, f.robustness, coalesce(f.provisional, FALSE) AS provisional,
           coalesce(nullif(f.district, ''), '{NO_DISTRICT}') AS district, f.substation, s.name, f.asset_kind, f.asset,
           f.item, f.rule, f.message, f.actual, f.required, f.unit, f.actual_value, f.required_value, t.change,
           array_to_string(n.runs, ' ') AS runs, concat_ws(' · ', f.source_file, f.sheet, f.cell) AS place, f.remedy
    FROM audit.finding f
    LEFT JOIN seen n USING (finding)
    LEFT JOIN told t USING (finding)
    LEFT JOIN station s ON s.substation = f.substation
    ORDER BY coalesce(f.status = 'waived', FALSE), {severity_order("f.severity")}, district, f.substation, f.asset,
             f.rule, f.finding
"""


def findings_index(store: Store) -> dict[str, Any]:
    """All findings, open ones first, then by severity, district, station and asset, as coded columns."""
    cursor = store.connection.execute(_QUERY)
    rows = []
    while batch := cursor.fetchmany(20_000):
        rows += [_row(*found) for found in batch]
    return coded_table(COLUMNS, rows)


def _row(
    finding: str,
    severity: str,
    status: str | None,
    robustness: str | None,
    provisional: bool,
    district: str,
    substation: str | None,
    name: str | None,
    kind: str | None,
    asset: str | None,
    item: str | None,
    rule: str,
    message: str | None,
    actual: str | None,
    required: str | None,
    unit: str | None,
    actual_value: float | None,
    required_value: float | None,
    change: str | None,
    runs: str | None,
    place: str,
    remedy: str | None,
) -> tuple[Any, ...]:
    tag = f"{asset or ''}, {item}" if item else asset or ""
    sure = (robustness or "") + (", provisional" if provisional else "")
    return (
        *(finding, severity or "low", status or "open", sure.removeprefix(", "), _text(district), _text(substation)),
        *(_text(name) if name != substation else "", kind_in_words(kind), _text(tag), rule, _text(message)),
        *(_text(actual), _text(required), unit or "", margin(actual_value, required_value)),
        *(change or "", runs or "", _text(place), _text(remedy)),
    )


def _text(value: str | None) -> str:
    return clean_text(value) if value else ""
