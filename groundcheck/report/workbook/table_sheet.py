"""A sheet that holds one table: heads in the first row, frozen, filtered and repeated on paper; a row a record."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from xlsxwriter.utility import xl_col_to_name

from groundcheck.report.rows import count_rows, stream
from groundcheck.report.workbook.cells import Link, row_height, set_height, write_text, write_value
from groundcheck.report.workbook.looks import ANSWERS, FAINT, RIGHT, SEVERITY, Looks, severity_tint
from groundcheck.report.workbook.page import set_page
from groundcheck.report.workbook.quick_sheet import QuickSheet
from groundcheck.report.workbook.row_text import cell_writer
from groundcheck.store import Store

__all__ = [
    "Field",
    "Link",
    "TableSheet",
    "TableWriter",
    "rows_of",
    "set_height",
    "write_table_sheet",
    "write_text",
    "write_value",
]

ROW_LIMIT = 1_048_576  # rows of one sheet; Microsoft, 'Excel specifications and limits'
ROWS_SHOWN = 100_000  # of a table beside the exceptions: what a person still filters, and a program opens


@dataclass(frozen=True)
class Field:
    """
    A column: its head, its width in characters and its look; 'value' is a number where it is one, else text.

    What is `aside` stands in a group that folds away, and is not printed.
    """

    head: str
    width: float
    look: str = "text"
    hidden: bool = False
    allowed: Mapping[str, Any] | None = None  # data validation of its cells, as xlsxwriter takes it
    aside: bool = False


def rows_of(store: Store, query: str, make: Callable[..., tuple[Any, ...]] | None = None) -> dict[str, Any]:
    """The rows of a query as a table takes them: counted, and read when they are written."""
    limited = stream(store, f"{query} LIMIT {ROWS_SHOWN}")
    return {"rows": (make(*row) for row in limited) if make else limited, "count": count_rows(store, query)}


@dataclass(frozen=True)
class TableSheet:
    """
    A sheet to be: what it is for, its columns and rows, and what it says if there are none.

    `count` is the number of rows where `rows` can be gone through only once, and `more` what the sheet says under the
    last row. `faint_where` is a condition on a row that is only kept in view, and `tints` are others, each with the
    column and what it changes there; a head in braces stands for the cell of the row under it.
    """

    name: str
    about: str
    fields: tuple[Field, ...]
    rows: Iterable[tuple[Any, ...]]
    empty: str
    frozen_columns: int = 0
    whole_in: str = "the store"
    count: int | None = None
    limit: int | None = None  # ROWS_SHOWN
    more: str | None = None
    faint_where: str | None = None
    tints: tuple[tuple[str, str, Mapping[str, Any]], ...] = ()

    @property
    def size(self) -> int:
        """How many rows there are, shown or not."""
        return self.count if self.count is not None else len(self.rows)  # type: ignore[arg-type]

    @property
    def shown(self) -> int:
        """How many of them the sheet has room for, below its heads and above its last sentence."""
        return min(self.size, ROWS_SHOWN if self.limit is None else self.limit, ROW_LIMIT - 2)

    @property
    def left_out(self) -> str | None:
        """What the sheet does not hold, in words."""
        if self.shown == self.size:
            return self.more
        many = f"{self.size - self.shown:,} more rows are not on this sheet; {self.whole_in} holds them."
        return f"{many} {self.more}" if self.more else many


class TableWriter:
    """A table being filled, row by row."""

    def __init__(self, sheet: QuickSheet, looks: Looks, table: TableSheet) -> None:
        self._sheet = sheet
        self._looks = looks
        self._table = table
        self._cells = [cell_writer(sheet, looks, position, field.look) for position, field in enumerate(table.fields)]
        self._widths = [None if field.hidden else field.width for field in table.fields]
        self._last = len(table.fields) - 1
        self.rows = 0
        _lay_out(sheet, looks, table)

    @property
    def is_full(self) -> bool:
        """Whether the sheet takes no more rows."""
        return self.rows >= self._table.shown

    def put(self, row: Sequence[Any]) -> None:
        """Write one row."""
        self.rows += 1
        number = str(self.rows + 1)
        text = "".join([write(number, value) for write, value in zip(self._cells, row, strict=True)])
        self._sheet.put_row(self.rows, text, self._last, row_height(row, self._widths))

    def close(self) -> None:
        """Write what stands under the rows, and what holds for all of them."""
        table, sheet = self._table, self._sheet
        if self.rows == 0:
            sheet.write_string(1, 0, table.empty, self._looks["quiet"])
            return
        sheet.autofilter(0, 0, self.rows, self._last)
        for position, field in enumerate(table.fields):
            if field.allowed is not None:
                sheet.data_validation(1, position, self.rows, position, dict(field.allowed))
        self._tint()
        if table.left_out:
            write_text(sheet, self.rows + 1, 0, table.left_out, self._looks["warning_line"])

    def _tint(self) -> None:
        """Looks that depend on a row's values: formulas over the row's own cells, which sorting takes along."""
        table = self._table
        heads = {field.head: position for position, field in enumerate(table.fields)}
        if table.faint_where:
            seen = [heads[field.head] for field in table.fields if not field.hidden and field.look not in ANSWERS]
            for first, last in _runs(seen):
                self._put_tint(table.faint_where, first, last, FAINT)
        for position, field in enumerate(table.fields):
            for severity in SEVERITY if field.look == "severity" else ():
                condition = f'{{{field.head}}}="{severity}"'
                if table.faint_where:
                    condition = f"AND({condition},NOT({table.faint_where}))"
                self._put_tint(condition, position, position, severity_tint(severity))
        for condition, head, look in table.tints:
            self._put_tint(condition, heads[head], heads[head], look)

    def _put_tint(self, condition: str, first: int, last: int, look: Mapping[str, Any]) -> None:
        cells = {field.head: f"${xl_col_to_name(n)}2" for n, field in enumerate(self._table.fields)}
        rule = {"type": "formula", "criteria": f"={condition.format_map(cells)}", "format": self._looks.tint(look)}
        self._sheet.conditional_format(1, first, self.rows, last, rule)


def write_table_sheet(sheet: QuickSheet, looks: Looks, table: TableSheet) -> None:
    """Fill a sheet that was added under the table's name."""
    writer = TableWriter(sheet, looks, table)
    for row in table.rows:
        if writer.is_full:
            break
        writer.put(row)
    writer.close()


def _lay_out(sheet: QuickSheet, looks: Looks, table: TableSheet) -> None:
    fields = table.fields
    for position, field in enumerate(fields):
        options: dict[str, Any] = {"hidden": True} if field.hidden else {"level": 1} if field.aside else {}
        sheet.set_column(position, position, field.width, looks["column"], options)
    if any(field.aside for field in fields):
        sheet.outline_settings(symbols_right=False)
    sheet.freeze_panes(1, table.frozen_columns)
    printed = [field.width for field in fields if not (field.hidden or field.aside)]
    set_page(sheet, len(fields) - 1, printed)
    if len(printed) < len(fields):
        below = 1 if table.left_out and table.shown else 0
        sheet.print_area(0, 0, max(table.shown, 1) + below, len(printed) - 1)
    sheet.set_row(0, 32)
    for position, field in enumerate(fields):
        sheet.write_string(0, position, field.head, looks["head_right" if field.look in RIGHT else "head"])


def _runs(positions: Sequence[int]) -> list[tuple[int, int]]:
    """Neighboring columns together."""
    runs: list[tuple[int, int]] = []
    for position in positions:
        if runs and runs[-1][1] == position - 1:
            runs[-1] = (runs[-1][0], position)
        else:
            runs.append((position, position))
    return runs
