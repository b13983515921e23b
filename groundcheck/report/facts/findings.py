"""All that the store knows of each finding: what is wrong, working, evidence, assumptions, history."""

import math
from collections.abc import Collection, Iterator
from typing import Any, TypedDict, cast

from groundcheck.audit.wording import in_digits
from groundcheck.report.facts.streaming import Groups, stream_clean
from groundcheck.report.rows import severity_order
from groundcheck.store import Store


class EvidenceFacts(TypedDict):
    """An input of a finding, or a field that a computed input comes from."""

    role: str
    input: str
    asset: str | None
    value: str | None
    unit: str | None
    file: str | None
    sheet: str | None
    cell: str | None
    found: str | None
    computed: bool | None


class AssumedFacts(TypedDict):
    """A typical value that stands in for a blank field; `field` is table.column."""

    field: str
    asset: str
    value: str | None
    why: str | None


class HistoryFacts(TypedDict):
    """What an audit, and those after it until the next entry, said; without a message it was no finding."""

    run: int
    made_at: str | None
    status: str | None
    severity: str | None
    message: str | None
    waiver: str | None


class FindingFacts(TypedDict):
    """A finding. Fit for JSON: numbers are finite, texts are clean; what is not on record is None."""

    finding: str
    rule: str
    title: str | None
    severity: str
    status: str
    waiver: str | None
    substation: str
    district: str | None
    asset_kind: str
    asset: str
    item: str | None
    message: str | None
    actual: str | None
    required: str | None
    unit: str | None
    actual_value: float | None
    required_value: float | None
    actual_within: str | None
    required_within: str | None
    robustness: str | None
    provisional: bool | None
    file: str | None
    sheet: str | None
    cell: str | None
    working: list[str]
    remedy: str | None
    caution: str | None
    basis: str | None
    why: str | None
    cannot_see: str | None
    formula: str | None
    evidence: list[EvidenceFacts]
    evidence_left_out: int
    assumed: list[AssumedFacts]
    history: list[HistoryFacts]


_OWN = (
    *("finding", "rule", "severity", "status", "waiver", "substation", "district", "asset_kind", "asset", "item"),
    *("message", "actual", "required", "unit", "actual_value", "required_value", "robustness", "provisional"),
    *("source_file", "sheet", "cell", "working", "remedy", "caution", "basis"),
)
_OF_RULE = ("title", "why", "cannot_see", "formula")
_NUMBERS = ("actual_low", "actual_high", "required_low", "required_high")
_NOT_TEXT = ("actual_value", "required_value", "provisional")
_EVIDENCE = ("role", "input", "asset", "value", "unit", "source_file", "sheet", "cell", "found", "computed")
_ASSUMED = ("field", "asset", "value", "why")
_HISTORY = ("run", "made_at", "status", "severity", "message", "waiver")

_EVIDENCE_KEYS = tuple(EvidenceFacts.__annotations__)

# How finding and evidence are cut out; every query below starts with it, so that all of them number alike.
_WANTED = f"""
    WITH wanted AS (
        SELECT *, row_number() OVER (
            ORDER BY substation, status IS NOT DISTINCT FROM 'waived', {severity_order("severity")},
                     asset, rule, finding
        ) AS n
        FROM audit.finding WHERE %s
    )
"""


def finding_facts(
    store: Store,
    *,
    substations: Collection[str] | None = None,
    findings: Collection[str] | None = None,
    basis_limit: int | None = None,
) -> Iterator[FindingFacts]:
    """
    The findings by station, the open ones first, then by severity, asset and rule.

    `substations` and `findings` name the ones that are wanted; all of them if None. With `basis_limit` only so many
    of the fields that computed inputs come from are given, the nearest first; `evidence_left_out` counts the others.
    """
    conditions, parameters = ["TRUE"], []
    for column, wanted in (("substation", substations), ("finding", findings)):
        if wanted is not None:
            conditions.append(f"{column} IN (SELECT unnest(?::VARCHAR[]))")
            parameters.append(list(wanted))
    start = _WANTED % " AND ".join(conditions)
    evidence = Groups(_evidence(store, start, parameters, basis_limit))
    assumed = Groups(_assumed(store, start, parameters))
    history = Groups(_history(store, start, parameters))
    for number, basis, row in _findings(store, start, parameters):
        own = evidence.take(number)
        yield cast(
            FindingFacts,
            row
            | {
                "evidence": [dict(zip(_EVIDENCE_KEYS, each, strict=True)) for each in own],
                "evidence_left_out": max(0, basis - basis_limit) if basis_limit is not None else 0,
                "assumed": [dict(zip(_ASSUMED, each, strict=True)) for each in assumed.take(number)],
                "history": [dict(zip(_HISTORY, each, strict=True)) for each in history.take(number)],
            },
        )


def _findings(store: Store, start: str, parameters: list[Any]) -> Iterator[tuple[int, int, dict[str, Any]]]:
    """Number, count of its basis, and all that stands in the finding's own row and that of its rule."""
    texts = [f"f.{name}" for name in _OWN if name not in _NOT_TEXT] + [f"r.{name}" for name in _OF_RULE]
    columns = ["f.n", "coalesce(b.basis, 0)", *(f"f.{name}" for name in (*_NUMBERS, *_OWN)), *texts[-len(_OF_RULE) :]]
    rest = f"""
        FROM wanted f
        LEFT JOIN (SELECT rule, {", ".join(_OF_RULE)} FROM audit.rule WHERE problem IS NULL) r ON r.rule = f.rule
        LEFT JOIN (SELECT finding, count(*) AS basis FROM audit.evidence WHERE role = 'basis' GROUP BY finding) b
               ON b.finding = f.finding
        ORDER BY f.n
    """
    names = (*_OWN, *_OF_RULE)
    for number, basis, actual_low, actual_high, required_low, required_high, *values in stream_clean(
        store, columns, texts, rest, parameters, start
    ):
        row = dict(zip(names, values, strict=True))
        row["working"] = (row["working"] or "").splitlines()
        row["file"] = row.pop("source_file")
        row["actual_value"], row["required_value"] = _finite(row["actual_value"]), _finite(row["required_value"])
        row["actual_within"] = _within(actual_low, actual_high, row["unit"])
        row["required_within"] = _within(required_low, required_high, row["unit"])
        yield number, basis, row


def _evidence(store: Store, start: str, parameters: list[Any], basis_limit: int | None) -> Iterator[tuple[Any, ...]]:
    order = "e.position, e.input, e.asset, e.cell"
    basis = "e.role = 'basis'"
    if basis_limit is not None:
        basis += f" QUALIFY row_number() OVER (PARTITION BY e.finding ORDER BY {order}) <= {basis_limit:d}"
    rest = f"""
        FROM (
            SELECT f.n, e.* FROM audit.evidence e JOIN wanted f USING (finding) WHERE e.role = 'input'
            UNION ALL
            SELECT f.n, e.* FROM audit.evidence e JOIN wanted f USING (finding) WHERE {basis}
        ) e
        ORDER BY n, role DESC, {order}
    """
    return stream_clean(store, ["n", *_EVIDENCE], _EVIDENCE[1:-1], rest, parameters, start)


def _assumed(store: Store, start: str, parameters: list[Any]) -> Iterator[tuple[Any, ...]]:
    """The typical values that stand in for blank fields of the assets behind a finding."""
    behind = f"""
        {start}, behind AS (
            SELECT DISTINCT f.n, f.substation, split_part(e.input, '.', 1) AS asset_kind, e.asset
            FROM wanted f JOIN audit.evidence e USING (finding) WHERE f.provisional
        ), stands_in AS (
            SELECT b.n, a.asset_kind || '.' || a.field AS field, a.asset, a.value, a.why
            FROM behind b JOIN study.assumption a USING (substation, asset_kind, asset)
            UNION
            SELECT b.n, a.asset_kind || '.' || a.field,
                   if(a.substation = b.substation, '', a.substation || ':') || a.asset, a.value, a.why
            FROM behind b JOIN study.assumption a
              ON a.asset_kind = b.asset_kind AND a.substation || ':' || a.asset = b.asset
        )
    """
    rest = "FROM stands_in ORDER BY ALL"
    return stream_clean(store, ["n", *_ASSUMED], _ASSUMED, rest, parameters, behind)


def _history(store: Store, start: str, parameters: list[Any]) -> Iterator[tuple[Any, ...]]:
    """What each audit of the store said, where that differs from what the one before it said."""
    said = "row(p.message, p.severity, p.status, p.waiver)"
    rest = f"""
        FROM wanted f CROSS JOIN audit.run r
        LEFT JOIN audit.past_finding p ON p.run = r.run AND p.finding = f.finding
        WINDOW each_run AS (PARTITION BY f.n ORDER BY r.run)
        QUALIFY lag(r.run) OVER each_run IS NULL OR {said} IS DISTINCT FROM lag({said}) OVER each_run
        ORDER BY f.n, r.run
    """
    columns = ["f.n", "r.run", "r.made_at", "p.status", "p.severity", "p.message", "p.waiver"]
    return stream_clean(store, columns, columns[2:], rest, parameters, start)


def _within(low: float | None, high: float | None, unit: str | None) -> str | None:
    """The interval that tolerances and gaps leave a value, where there is one."""
    if low is None or high is None or low == high:
        return None
    return f"{in_digits(low)} to {with_unit(in_digits(high), unit)}"


def with_unit(value: str | None, unit: str | None) -> str | None:
    """The value with its unit; words such as 'without limit' take none."""
    return f"{value} {unit}" if value and unit and value[-1].isdigit() else value


def _finite(value: float | None) -> float | None:
    return value if value is not None and math.isfinite(value) else None
