"""The few numbers that tell what an audit read and found; the workbook's summary and the terminal show the same."""

from dataclasses import dataclass
from typing import Any

from groundcheck.report.rows import fetch, severity_order
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.store import Store


@dataclass(frozen=True)
class Reading:
    """What was read. Of rows_read each row is in exactly one of the other five counts of rows."""

    files: int
    copies: int
    unreadable: int
    sheets: int
    rows_read: int
    rows_used: int
    rows_quarantined: int
    heading_rows: int
    note_rows: int
    blank_rows: int
    unread_cells: int
    noted_cells: int
    questions: int
    stations: int
    assets: int


@dataclass(frozen=True)
class Outcomes:
    """How all checks ended."""

    satisfied: int
    exceptions: int
    not_assessable: int
    not_applicable: int
    waived: int = 0

    @property
    def verdict(self) -> str:
        """The result in one sentence; tells 'nothing found' from 'nothing could be checked'."""
        rest = f"Checks satisfied: {self.satisfied:,}; not assessable: {self.not_assessable:,}."
        if self.exceptions and self.waived:
            return f"{counted(self.exceptions - self.waived, 'finding')} open, {self.waived:,} waived. {rest}"
        if self.exceptions:
            return f"{counted(self.exceptions, 'finding')}. {rest}"
        if self.satisfied:
            return f"No findings: every check that could be made is satisfied. {rest}"
        if self.not_assessable:
            return (
                "No findings, because nothing could be assessed: every check waits for fields that are not on record. "
                + rest
            )
        return "No findings, because no rule applies to anything on record."


def counted(number: int, noun: str) -> str:
    """'1 file', '2 files'."""
    return f"{number:,} {noun}" if number == 1 else f"{number:,} {noun}s"


def reading(store: Store) -> Reading:
    """Counts over all files."""
    files = fetch(
        store,
        "SELECT count(*) FILTER (problem IS NULL AND copy_of IS NULL), count(copy_of), "
        "count(*) FILTER (problem IS NOT NULL AND copy_of IS NULL) FROM raw.file",
    )[0]
    counts = ("rows_read", "rows_used", "rows_quarantined", "heading_rows", "note_rows", "blank_rows")
    sums = ", ".join(f"coalesce(sum({count}), 0)" for count in counts)
    rows = [int(value) for value in fetch(store, f"SELECT count(*), {sums} FROM raw.account")[0]]
    unread, noted, questions = (
        fetch(store, f"SELECT count(*) FROM raw.{table}")[0][0] for table in ("unread_cell", "noted_cell", "question")
    )
    each = " UNION ALL ".join(f'SELECT count(*) AS n FROM inventory."{name}"' for name in INVENTORY_TABLES)
    stations = fetch(store, "SELECT count(*) FROM inventory.substation")[0][0]
    assets = int(fetch(store, f"SELECT sum(n) FROM ({each})")[0][0]) - stations
    return Reading(
        files=files[0],
        copies=files[1],
        unreadable=files[2],
        sheets=rows[0],
        rows_read=rows[1],
        rows_used=rows[2],
        rows_quarantined=rows[3],
        heading_rows=rows[4],
        note_rows=rows[5],
        blank_rows=rows[6],
        unread_cells=unread,
        noted_cells=noted,
        questions=questions,
        stations=stations,
        assets=assets,
    )


def outcomes(store: Store) -> Outcomes:
    """Totals over all rules and stations."""
    sums = ", ".join(
        f"coalesce(sum({name}), 0)" for name in ("satisfied", "exceptions", "not_assessable", "not_applicable")
    )
    waived = fetch(store, "SELECT count(*) FROM audit.finding WHERE status = 'waived'")[0][0]
    satisfied, exceptions, missing, others = (
        int(value) for value in fetch(store, f"SELECT {sums} FROM audit.outcome")[0]
    )
    return Outcomes(satisfied, exceptions, missing, others, waived)


def findings_by_severity(store: Store) -> dict[str, int]:
    """Count of open findings, high first; a severity without any is 0."""
    return _by_severity(store, "status IS DISTINCT FROM 'waived'")


def waived_by_severity(store: Store) -> dict[str, int]:
    """Count of findings that are waived, likewise."""
    return _by_severity(store, "status = 'waived'")


def _by_severity(store: Store, which: str) -> dict[str, int]:
    found = dict(fetch(store, f"SELECT severity, count(*) FROM audit.finding WHERE {which} GROUP BY ALL"))
    return {name: int(found.pop(name, 0)) for name in ("high", "medium", "low")} | found


def waivers_by_state(store: Store) -> dict[str, int]:
    """Count of waivers in each state."""
    return {state: int(count) for state, count in fetch(store, "SELECT state, count(*) FROM audit.waiver GROUP BY ALL")}


def waivers_that_do_not_hold(store: Store) -> list[str]:
    """What is to be said of waivers whose finding is open again, or gone."""
    states = waivers_by_state(store)
    words = {
        "expired": "expired, open again",
        "worsened": "of less than is found now, open again",
        "finding_cleared": "of what is no finding any more",
    }
    return [
        f"{counted(states[state], 'waiver')} {said}: sheet Waivers" for state, said in words.items() if state in states
    ]


def findings_by_district(store: Store) -> list[tuple[Any, ...]]:
    """District, stations, open findings (high, medium, low, all), waived ones; a district without any is there too."""
    return fetch(
        store,
        """
        WITH known AS (
            SELECT coalesce(district, '') AS district, count(*) AS stations FROM inventory.substation GROUP BY ALL
        ), found AS (
            SELECT coalesce(district, '') AS district,
                   count(*) FILTER (severity = 'high' AND NOT waived)   AS high,
                   count(*) FILTER (severity = 'medium' AND NOT waived) AS medium,
                   count(*) FILTER (severity = 'low' AND NOT waived)    AS low,
                   count(*) FILTER (NOT waived)                         AS total,
                   count(*) FILTER (waived)                             AS waived
            FROM (SELECT *, coalesce(status = 'waived', FALSE) AS waived FROM audit.finding) GROUP BY ALL
        )
        SELECT coalesce(nullif(district, ''), 'district not on record'), coalesce(k.stations, 0), coalesce(f.high, 0),
               coalesce(f.medium, 0), coalesce(f.low, 0), coalesce(f.total, 0), coalesce(f.waived, 0)
        FROM known k FULL JOIN found f USING (district)
        ORDER BY district = '', district
        """,
    )


def changes_since(store: Store) -> tuple[int, str, dict[str, int]] | None:
    """Number and time of the audit before, and how many findings changed in which way; None if there was none."""
    before = fetch(store, "SELECT run, made_at FROM audit.run ORDER BY run DESC LIMIT 1 OFFSET 1")
    if not before:
        return None
    counts = dict(fetch(store, "SELECT change, count(*) FROM audit.change GROUP BY ALL"))
    return int(before[0][0]), str(before[0][1]), {name: int(number) for name, number in counts.items()}


def notices(store: Store) -> list[str]:
    """What the policy names and no record does."""
    rows = fetch(store, "SELECT notices FROM audit.run ORDER BY run DESC LIMIT 1")
    return str(rows[0][0]).splitlines() if rows and rows[0][0] else []


def rule_counts(store: Store) -> list[tuple[Any, ...]]:
    """Rule, severity, title, exceptions, satisfied, not assessable, not applicable, problem; high first, most first."""
    return fetch(
        store,
        f"""
        SELECT r.rule, r.severity, r.title,
               coalesce(sum(o.exceptions), 0)::BIGINT     AS exceptions,
               coalesce(sum(o.satisfied), 0)::BIGINT      AS satisfied,
               coalesce(sum(o.not_assessable), 0)::BIGINT AS not_assessable,
               coalesce(sum(o.not_applicable), 0)::BIGINT AS not_applicable,
               r.problem
        FROM audit.rule r LEFT JOIN audit.outcome o USING (rule)
        GROUP BY r.rule, r.severity, r.title, r.problem
        ORDER BY r.problem IS NOT NULL, {severity_order("r.severity")}, exceptions DESC, r.rule
        """,
    )


def refused_rules(store: Store) -> list[tuple[str, str]]:
    """Rule and why it was refused."""
    return [
        (str(rule), str(problem))
        for rule, problem in fetch(
            store, "SELECT rule, problem FROM audit.rule WHERE problem IS NOT NULL ORDER BY rule, problem"
        )
    ]


def blocking_fields(store: Store) -> list[tuple[Any, ...]]:
    """Kind, field, checks blocked, records to fill in, stations; what blocks most comes first."""
    return fetch(
        store,
        """
        SELECT blocking_asset_kind, field,
               count(DISTINCT (rule, substation, asset_kind, asset, item)) AS checks,
               count(DISTINCT (blocking_substation, blocking_asset))       AS records,
               count(DISTINCT blocking_substation)                         AS stations
        FROM audit.missing_field
        GROUP BY ALL
        ORDER BY checks DESC, records, blocking_asset_kind, field
        """,
    )


def unreadable_files(store: Store) -> list[tuple[Any, ...]]:
    """File and why it could not be read, or of which file it is a copy."""
    return fetch(
        store,
        """
        SELECT file, coalesce(problem, 'same content as ' || copy_of || ', read once') FROM raw.file
        WHERE problem IS NOT NULL OR copy_of IS NOT NULL ORDER BY file
        """,
    )
