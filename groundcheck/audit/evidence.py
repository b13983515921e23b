"""The inputs of each finding: value, unit, and the cell that it was read from."""

from collections.abc import Collection, Mapping
from typing import Any

import pandas as pd

from groundcheck.audit.cells import cells_of
from groundcheck.audit.inputs import Input, inputs_of, locate
from groundcheck.audit.rule import Rule
from groundcheck.audit.wording import NOT_ON_RECORD, in_digits
from groundcheck.store import Store

EVIDENCE_COLUMNS = ["answer_number", "position", "input", "kind", "substation", "asset", "field", "value", "unit"]


def gather_evidence(store: Store, rule: Rule, columns: Collection[str], exceptions: list[dict[str, Any]]) -> set[int]:
    """
    Leave the temporary table `exception_evidence`, a row an exception and input, and say which are provisional.

    Returns the answer numbers of the exceptions that rest on an assumed value.
    """
    provisional = {row["answer_number"] for row in exceptions if row.get("provisional")}
    by_number = {row["answer_number"]: row for row in exceptions}
    rows: list[tuple[Any, ...]] = []
    for each in inputs_of(rule):
        query = locate(rule, each, columns, "ok IS FALSE")
        if query is None:
            rows.extend(_from_answers(each, columns, exceptions))
            continue
        seen: set[int] = set()
        ordered = f"SELECT * FROM ({query}) ORDER BY answer_number, value IS NULL, station, tag"
        for number, kind, station, tag, _, value, assumed in store.connection.execute(ordered).fetchall():
            if assumed:
                provisional.add(number)
            if number not in seen and _is_about(each, by_number[number]):
                seen.add(number)
                rows.append(_evidence(each, number, kind, station, tag, value, by_number[number]))
    frame = pd.DataFrame(rows, columns=EVIDENCE_COLUMNS).astype({"answer_number": "int64", "position": "int64"})
    texts = [name for name in EVIDENCE_COLUMNS if name not in ("answer_number", "position")]
    frame[texts] = frame[texts].astype(object)
    store.connection.register("evidence_rows", frame)
    typed = ", ".join(f"{name}::VARCHAR AS {name}" for name in texts)
    try:
        store.connection.execute(
            f"CREATE OR REPLACE TEMP TABLE given AS SELECT answer_number, position, {typed} FROM evidence_rows"
        )
    finally:
        store.connection.unregister("evidence_rows")
    wanted = "(SELECT kind, substation, asset, field FROM given WHERE field IS NOT NULL)"
    store.connection.execute(
        f"""
        CREATE OR REPLACE TEMP TABLE exception_evidence AS
        SELECT g.*, c.source_file, c.sheet, c.cell, c.found
        FROM given g
        LEFT JOIN ({cells_of(wanted)}) c
               ON c.kind = g.kind AND c.substation = g.substation AND c.asset = g.asset AND c.field = g.field
        """
    )
    return provisional


def _is_about(each: Input, answer: Mapping[str, Any]) -> bool:
    """Whether the input is the one that the answer is about, where the query says so with a column `field`."""
    field = answer.get("field")
    return field is None or (each.table, each.column) == (answer["asset_kind"], field)


def _evidence(
    each: Input, number: int, kind: str, station: str | None, tag: str | None, value: Any, answer: Mapping[str, Any]
) -> tuple[Any, ...]:
    field = None if each.computed else each.column
    text = in_digits(value) or NOT_ON_RECORD
    return (number, each.position, each.name, kind, station or answer["substation"], tag, field, text, each.unit)


def _from_answers(each: Input, columns: Collection[str], exceptions: list[dict[str, Any]]) -> list[tuple[Any, ...]]:
    """The value where only the answers' own column of that name tells it."""
    if each.column not in columns:
        return []
    return [
        (row["answer_number"], each.position, each.name, None, row["substation"], None, None,
         in_digits(row[each.column]) or NOT_ON_RECORD, each.unit)
        for row in exceptions
    ]  # fmt: skip


def write_evidence(store: Store) -> None:
    """Write audit.evidence from `exception_evidence` and `finding_of`, which gives each answer number its finding."""
    store.connection.execute(
        """
        INSERT INTO audit.evidence BY NAME
        SELECT f.finding, e.position, e.input,
               if(e.substation <> f.substation, e.substation || ':', '') || e.asset AS asset,
               e.value, e.unit, e.source_file, e.sheet, e.cell, e.found
        FROM exception_evidence e JOIN finding_of f USING (answer_number)
        ORDER BY e.answer_number, e.position
        """
    )
