"""The reconciliation of every row of every sheet."""

from collections import Counter

import pandas as pd

from groundcheck.ingest.sheets import SourceFile
from groundcheck.ingest.tables.layouts import Reading
from groundcheck.schema import STAGES

_USES = {
    "inventory": "rows_used",
    "quarantine": "rows_quarantined",
    "heading": "heading_rows",
    "note": "note_rows",
    "blank": "blank_rows",
}


def reconcile(files: list[SourceFile], reading: Reading) -> pd.DataFrame:
    """
    Count the rows of every sheet by their use.

    Raises
    ------
    AssertionError
        A row was lost or counted twice: a fault of this program.
    """
    uses: dict[tuple[str, str], Counter[str]] = {}
    for block in reading.book.blocks:
        uses.setdefault((block.sheet.file, block.sheet.name), Counter()).update(block.uses)
    rows = []
    for sheet in (sheet for file in files for sheet in file.sheets):
        counted = uses.get((sheet.file, sheet.name), Counter())
        read = _rows_read(reading, sheet.file, sheet.name, len(sheet.rows))
        counts = {name: counted[use] for use, name in _USES.items()}
        if sum(counts.values()) != read:
            raise AssertionError(f"{sheet.label}: {read} rows read, {sum(counts.values())} accounted for: {counts}")
        remark = reading.remarks.get((sheet.file, sheet.name))
        rows.append(
            {"file": sheet.file, "sheet": sheet.name, "rows_read": read}
            | counts
            | {
                "hidden": sheet.hidden,
                "hidden_rows": _count(sheet.hidden_rows),
                "hidden_columns": _count(sheet.hidden_columns),
                "struck_rows": _count(sheet.struck_rows),
                "turned": sheet.turned,
                "remark": remark,
            }
        )
    quarantined = sum(int(str(row["rows_quarantined"])) for row in rows)
    if quarantined != len(reading.book.quarantined):
        raise AssertionError(f"{quarantined} rows in quarantine, {len(reading.book.quarantined)} entries")
    names = list(STAGES["raw"]["account"].columns())
    return pd.DataFrame(rows, columns=names)


def _count(told: frozenset[int] | None) -> int | None:
    return None if told is None else len(told)


def _rows_read(reading: Reading, file: str, sheet: str, rows: int) -> int:
    """The rows of the sheet; a row that holds cells of several tables side by side counts once for each."""
    spans: Counter[tuple[int, int]] = Counter()
    for where, layout in reading.layouts:
        if (where.file, where.name) == (file, sheet):
            spans[layout.region.heading_rows[0], layout.region.body.stop] += 1
    return rows + sum((tables - 1) * (stop - start) for (start, stop), tables in spans.items())
