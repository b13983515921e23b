"""Exceptions, made into findings."""

import math
from collections.abc import Mapping
from dataclasses import astuple, fields
from typing import Any, TypeGuard

import pandas as pd

from groundcheck.audit.cells import cells_of
from groundcheck.audit.choices import limited
from groundcheck.audit.discovery import LoadedRule
from groundcheck.audit.evidence import Evidence
from groundcheck.audit.wording import fill, in_digits
from groundcheck.finding_identity import finding_id
from groundcheck.rule_choices import Ruling
from groundcheck.store import Store


def robustness(answer: dict[str, Any]) -> str:
    """
    'marginal' where the intervals of actual and required meet, so that the answer may be the other one; else 'firm'.

    The ends are the answer's columns actual_low, actual_high, required_low, required_high; one that it lacks, or that
    is NULL, is the value itself. Texts, flags and values that are not known are firm: nothing measures them.
    """
    actual_low, actual_high = _ends(answer, "actual")
    required_low, required_high = _ends(answer, "required")
    if actual_low is None or actual_high is None or required_low is None or required_high is None:
        return "firm"
    if actual_low == actual_high and required_low == required_high:
        return "firm"
    return "marginal" if actual_low <= required_high and required_low <= actual_high else "firm"


def _ends(answer: dict[str, Any], side: str) -> tuple[float | None, float | None]:
    """Low and high end of actual or required; None where it is no number."""
    if not _is_number(answer[side]):
        return None, None
    low, high = (answer.get(f"{side}_{end}") for end in ("low", "high"))
    value = float(answer[side])
    return (float(low) if _is_number(low) else value, float(high) if _is_number(high) else value)


def _numbers(answer: dict[str, Any]) -> dict[str, float | None]:
    """Actual and required as numbers, with their ends."""
    numbers: dict[str, float | None] = {}
    for side in ("actual", "required"):
        numbers[f"{side}_value"] = float(answer[side]) if _is_number(answer[side]) else None
        numbers[f"{side}_low"], numbers[f"{side}_high"] = _ends(answer, side)
    return numbers


def _is_number(value: Any) -> TypeGuard[float]:
    return isinstance(value, int | float) and not isinstance(value, bool) and not math.isnan(value)


def word_exceptions(
    loaded: LoadedRule, exceptions: list[dict[str, Any]], parameters: dict[str, Any], rulings: Mapping[str, Ruling]
) -> list[dict[str, Any]]:
    """
    The findings without their cells, one an exception; `rulings` may give other limits and severities at some stations.

    Raises
    ------
    RuleFault
        A text can't be filled in.
    """
    rule = loaded.rule
    findings = []
    for answer in exceptions:
        held = rulings.get(answer["substation"], Ruling())
        shown = {**limited(rule, parameters, held.limits), **answer}
        whose = (answer["substation"], answer["asset_kind"], answer["asset"])
        findings.append(
            {
                "finding": finding_id(loaded.name, *whose, answer["item"]),
                "rule": loaded.name,
                "severity": held.severity or rule.severity,
                **dict(zip(("substation", "asset_kind", "asset"), whose, strict=True)),
                "message": fill(rule.message, shown, "message"),
                "actual": in_digits(answer["actual"]),
                "required": in_digits(answer["required"]),
                "unit": in_digits(answer["unit"]),
                "item": answer["item"],
                **_numbers(answer),
                "robustness": robustness(answer),
                "status": "open",
                "remedy": fill(rule.remedy, shown, "remedy"),
                "working": fill(rule.working, shown, "working"),
                "caution": rule.caution,
                "basis": rule.basis,
            }
        )
    return findings


def write_findings(store: Store, findings: list[dict[str, Any]], evidence: list[tuple[str, Evidence]]) -> None:
    """
    Write audit.finding and audit.evidence, with the cells of all of them found at once.

    The cell of a finding is that of the first of its inputs that belongs to the asset, or to the bus that names the
    zone; else that of the tag; else, for an asset without a column of its own, the first that fed it.
    """
    if not findings:
        return
    run = store.connection.execute
    given = pd.DataFrame([(finding, *astuple(each)) for finding, each in evidence], columns=_EVIDENCE_COLUMNS)
    worded = pd.DataFrame(findings)
    _keep_texts(store, "given", given, _EVIDENCE_COLUMNS, {"position": "BIGINT"})
    numbers = {f"{side}_{end}": "DOUBLE" for side in ("actual", "required") for end in ("value", "low", "high")}
    _keep_texts(store, "worded", worded, list(worded.columns), {"provisional": "BOOLEAN", **numbers})
    run(
        f"""
        CREATE OR REPLACE TEMP TABLE given_cells AS
        SELECT g.*, c.source_file, c.sheet, c.cell, c.found
        FROM given g
        LEFT JOIN ({cells_of("(SELECT * FROM given WHERE field IS NOT NULL)")}) c
               ON c.kind = g.kind AND c.substation = g.substation AND c.asset = g.asset AND c.field = g.field
        """
    )
    run(
        """
        CREATE OR REPLACE TEMP TABLE subject AS
        SELECT f.finding, if(z.zone IS NULL, f.asset_kind, 'bus') AS kind,
               if(z.zone IS NULL, f.substation, z.substation) AS substation, if(z.zone IS NULL, f.asset, z.bus) AS asset
        FROM worded f LEFT JOIN study.zone z ON f.asset_kind = 'zone' AND z.zone = f.asset
        """
    )
    run(
        f"""
        INSERT INTO audit.finding BY NAME
        SELECT f.*, s.district, coalesce(e.source_file, t.source_file) AS source_file,
               coalesce(e.sheet, t.sheet) AS sheet, coalesce(e.cell, t.cell, t.first_cell) AS cell
        FROM worded f
        JOIN subject o USING (finding)
        LEFT JOIN (
            SELECT e.finding, e.source_file, e.sheet, e.cell
            FROM given_cells e JOIN subject USING (finding, kind, substation, asset)
            WHERE e.cell IS NOT NULL
            QUALIFY row_number() OVER (PARTITION BY e.finding ORDER BY e.position) = 1
        ) e ON e.finding = f.finding
        LEFT JOIN ({cells_of("(SELECT *, kind AS field FROM subject)")}) t
               ON t.kind = o.kind AND t.substation = o.substation AND t.asset = o.asset
        LEFT JOIN inventory.substation s ON s.substation = f.substation
        ORDER BY f.rule, f.substation, f.asset_kind, f.asset, f.finding
        """
    )
    run(
        """
        INSERT INTO audit.evidence BY NAME
        SELECT e.finding, e.position, 'input' AS role, e.kind IS NOT NULL AND e.field IS NULL AS computed, e.input,
               if(e.substation <> f.substation, e.substation || ':', '') || e.asset AS asset,
               e.value, e.unit, e.source_file, e.sheet, e.cell, e.found
        FROM given_cells e JOIN worded f USING (finding)
        ORDER BY e.finding, e.position
        """
    )


_EVIDENCE_COLUMNS = ["finding", *(field.name for field in fields(Evidence))]


def _keep_texts(store: Store, name: str, frame: pd.DataFrame, columns: list[str], kinds: dict[str, str]) -> None:
    """Keep a frame as a temporary table of texts, but for the columns of another kind."""
    store.connection.register("incoming_frame", frame)
    typed = ", ".join(f'"{column}"::{kinds.get(column, "VARCHAR")} AS "{column}"' for column in columns)
    try:
        store.connection.execute(f"CREATE OR REPLACE TEMP TABLE {name} AS SELECT {typed} FROM incoming_frame")
    finally:
        store.connection.unregister("incoming_frame")
