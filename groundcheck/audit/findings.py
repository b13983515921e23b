"""Exceptions, made into findings."""

import hashlib
import math
from typing import Any

import pandas as pd

from groundcheck.audit.cells import cells_of
from groundcheck.audit.discovery import LoadedRule
from groundcheck.audit.wording import fill, in_digits
from groundcheck.store import Store


def finding_id(rule: str, substation: str, asset_kind: str, asset: str, item: str | None) -> str:
    """The identity of a finding: the same from one audit to the next while rule, asset and item are."""
    text = "|".join((rule, substation, asset_kind, asset, item or ""))
    return "F" + hashlib.sha256(text.encode()).hexdigest()[:10]


def robustness(actual: Any, required: Any, tolerance: float) -> str:
    """'marginal' where actual and required are numbers that lie within the relative tolerance, else 'firm'."""
    numbers = [
        float(value) for value in (actual, required) if isinstance(value, int | float) and not isinstance(value, bool)
    ]
    if len(numbers) < 2 or not all(math.isfinite(value) for value in numbers) or numbers[1] == 0:
        return "firm"
    rounding = 1e-9  # 0.95 / 1 is further from 1 than 0.05 by a rounding error
    return "marginal" if abs(numbers[0] / numbers[1] - 1) <= tolerance + rounding else "firm"


def word_exceptions(
    loaded: LoadedRule, exceptions: list[dict[str, Any]], parameters: dict[str, Any], tolerance: float
) -> pd.DataFrame:
    """
    The findings without their cells, a row an exception.

    Raises
    ------
    RuleFault
        A text can't be filled in.
    """
    rule = loaded.rule
    rows = []
    for answer in exceptions:
        shown = {**parameters, **answer}
        rows.append(
            {
                "answer_number": answer["answer_number"],
                "finding": finding_id(
                    loaded.name, answer["substation"], answer["asset_kind"], answer["asset"], answer["item"]
                ),
                "message": fill(rule.message, shown, "message"),
                "working": fill(rule.working, shown, "working"),
                "remedy": fill(rule.remedy, shown, "remedy"),
                "actual": in_digits(answer["actual"]),
                "required": in_digits(answer["required"]),
                "robustness": robustness(answer["actual"], answer["required"], tolerance),
            }
        )
    return pd.DataFrame(rows)


def write_findings(store: Store, loaded: LoadedRule, worded: pd.DataFrame, provisional: set[int]) -> None:
    """Write audit.finding for the worded exceptions, and leave the temporary table `finding_of`."""
    rule, run = loaded.rule, store.connection.execute
    worded = worded.assign(provisional=worded["answer_number"].isin(list(provisional)))
    store.connection.register("worded", worded)
    try:
        run(
            """
            CREATE OR REPLACE TEMP TABLE finding_of AS
            SELECT w.* REPLACE (w.actual::VARCHAR AS actual, w.required::VARCHAR AS required),
                   a.substation, a.asset_kind, a.asset, a.unit::VARCHAR AS unit
            FROM worded w JOIN answer a USING (answer_number)
            """
        )
    finally:
        store.connection.unregister("worded")
    # The asset itself: for a zone, the bus that names it. Its tag cell stands in where none of its inputs has a cell.
    run(
        """
        CREATE OR REPLACE TEMP TABLE subject AS
        SELECT f.answer_number, if(z.zone IS NULL, f.asset_kind, 'bus') AS kind,
               if(z.zone IS NULL, f.substation, z.substation) AS substation,
               if(z.zone IS NULL, f.asset, z.bus) AS asset
        FROM finding_of f LEFT JOIN study.zone z ON f.asset_kind = 'zone' AND z.zone = f.asset
        """
    )
    tags = "(SELECT kind, substation, asset, kind AS field FROM subject)"
    run(
        f"""
        INSERT INTO audit.finding BY NAME
        SELECT f.finding, $rule AS rule, $severity AS severity, f.substation, f.asset_kind, f.asset, f.message,
               f.actual, f.required, f.unit, f.provisional, f.robustness,
               coalesce(e.source_file, t.source_file) AS source_file, coalesce(e.sheet, t.sheet) AS sheet,
               if(e.cell IS NULL, t.cell, e.cell) AS cell, 'open' AS status, f.remedy, f.working,
               $caution AS caution, $basis AS basis, s.district
        FROM finding_of f
        JOIN subject o USING (answer_number)
        LEFT JOIN (
            SELECT e.answer_number, e.source_file, e.sheet, e.cell
            FROM exception_evidence e JOIN subject o USING (answer_number, kind, substation, asset)
            WHERE e.cell IS NOT NULL
            QUALIFY row_number() OVER (PARTITION BY e.answer_number ORDER BY e.position) = 1
        ) e ON e.answer_number = f.answer_number
        LEFT JOIN ({cells_of(tags)}) t ON t.kind = o.kind AND t.substation = o.substation AND t.asset = o.asset
        LEFT JOIN inventory.substation s ON s.substation = f.substation
        ORDER BY f.answer_number
        """,
        {"rule": loaded.name, "severity": rule.severity, "caution": rule.caution, "basis": rule.basis},
    )
