"""The stations as the page lists them, with how each stands and the file that holds its details."""

import hashlib
import re
from typing import Any

from groundcheck.report.cell_text import clean_text
from groundcheck.report.page.findings_index import NO_DISTRICT
from groundcheck.report.page.packing import coded_table
from groundcheck.report.rows import fetch
from groundcheck.store import Store

COLUMNS = (
    *("substation", "name", "district", "voltages", "standing", "high", "medium", "low", "waived", "missing", "file"),
)

_QUERY = f"""
    WITH found AS (
        SELECT substation, count(*) FILTER (severity = 'high' AND NOT waived)       AS high,
               count(*) FILTER (severity = 'medium' AND NOT waived)                 AS medium,
               count(*) FILTER (severity NOT IN ('high', 'medium') AND NOT waived)  AS low,
               count(*) FILTER (waived)                                             AS waived
        FROM (SELECT substation, severity, coalesce(status = 'waived', FALSE) AS waived FROM audit.finding)
        GROUP BY ALL
    ), missing AS (
        SELECT substation, count(*) AS missing FROM audit.result WHERE outcome = 'not_assessable' GROUP BY ALL
    ), kv AS (
        SELECT substation, list(DISTINCT nominal_voltage) AS kv FROM inventory.bus
        WHERE nominal_voltage IS NOT NULL GROUP BY ALL
    ), station AS (
        SELECT substation, any_value(name) AS name, any_value(district) AS district
        FROM inventory.substation GROUP BY ALL
    )
    SELECT s.substation, s.name, coalesce(nullif(s.district, ''), '{NO_DISTRICT}'), list_reverse_sort(kv.kv),
           coalesce(f.high, 0), coalesce(f.medium, 0), coalesce(f.low, 0), coalesce(f.waived, 0),
           coalesce(m.missing, 0)
    FROM station s LEFT JOIN found f USING (substation) LEFT JOIN missing m USING (substation)
    LEFT JOIN kv USING (substation)
    ORDER BY s.substation
"""


def stations_index(store: Store) -> dict[str, Any]:
    """All stations on record, by name, as coded columns."""
    return coded_table(COLUMNS, [_row(*found) for found in fetch(store, _QUERY)])


def chunk_name(substation: str) -> str:
    """
    The name of a station's file without its ending: short, of letters, digits and hyphens, and its own.

    A hash tells names apart that differ only in what a file system does not keep.
    """
    told = re.sub(r"[^A-Za-z0-9]+", "-", substation).strip("-")[:32]
    digest = hashlib.sha256(substation.encode("utf-8", "surrogatepass")).hexdigest()[:10]
    return f"{told}-{digest}" if told else digest


def _row(
    substation: str,
    name: str | None,
    district: str,
    voltages: list[float] | None,
    high: int,
    medium: int,
    low: int,
    waived: int,
    missing: int,
) -> tuple[Any, ...]:
    standing = next(
        (
            key
            for key, number in (
                *(("high", high), ("medium", medium), ("low", low)),
                *(("not_assessable", missing), ("waived", waived)),
            )
            if number
        ),
        "none",
    )
    shown = clean_text(name) if name and name != substation else ""
    levels = " / ".join(f"{kv:g}" for kv in voltages or ())
    counts = (high, medium, low, waived, missing)
    code = clean_text(substation)  # the facts know the station by it
    return (code, shown, clean_text(district), levels, standing, *counts, chunk_name(code))
