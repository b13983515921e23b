"""How a district writes: the order of its dates and the frequency of its cycles, from evidence or asked once a file."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.feeds import Layout
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.sheets import Sheet
from groundcheck.ingest.tables.read_field import Problem
from groundcheck.ingest.tables.records import Records
from groundcheck.ingest.values import NEEDS_FREQUENCY, day_order, read_column

Layouts = list[tuple[Sheet, Layout]]


def settle_habits(layouts: Layouts) -> None:
    """
    Say how cells are written where the column map does not, as far as the cells themselves show it.

    The order of day and month by the dates of the same file that can be read one way only; the frequency if all the
    stations of all files that name one name the same.
    """
    frequencies = {value for sheet, layout in layouts for value in _frequencies(sheet, layout)}
    frequency = frequencies.pop() if len(frequencies) == 1 else None
    dates: dict[str, list[Any]] = defaultdict(list)
    for sheet, layout in layouts:
        for column in _columns(layout, "date"):
            dates[sheet.file] += _cells(sheet, layout, column)
    orders = {file: day_order(cells) for file, cells in dates.items()}
    for sheet, layout in layouts:
        habits = layout.habits
        if habits.day_first is None:
            habits = replace(habits, day_first=orders.get(sheet.file))
        layout.habits = replace(habits, frequency=frequency) if habits.frequency is None else habits


def _frequencies(sheet: Sheet, layout: Layout) -> Iterator[float]:
    column = table_columns("substation")["frequency"]
    for feed in layout.feeds:
        if feed.table != "substation":
            continue
        source = feed.fields.get("frequency")
        if source is not None:
            cells = _cells(sheet, layout, source.columns[0])
            yield from (float(v) for v in read_column(cells, column, unit=source.unit).values if isinstance(v, float))
        if "frequency" in feed.constants:
            yield from (
                float(v) for v in read_column([feed.constants["frequency"]], column).values if isinstance(v, float)
            )


def _columns(layout: Layout, kind: str) -> set[int]:
    return {
        source.columns[0]
        for feed in layout.feeds
        for name, source in feed.fields.items()
        if table_columns(feed.table)[name].kind == kind
    }


def _cells(sheet: Sheet, layout: Layout, column: int) -> list[Any]:
    """The different cells of a column of the layout's table."""
    if column >= sheet.width:
        return []
    coded = sheet.coded(column)
    body = layout.region.body
    return list(sheet.columns[column][body.start : body.stop]) if coded is None else coded.at(body).distinct


def ask_about_habits(records: list[Records], book: Book) -> None:
    """Ask once a file for the order of its dates and for the frequency, where cells wait for them."""
    waiting: dict[tuple[str, str], list[tuple[Records, Problem]]] = defaultdict(list)
    for part in records:
        for problem in part.problems:
            if problem.reason == "date_order":
                waiting[part.sheet.file, "date_order"].append((part, problem))
            elif problem.expected.endswith(NEEDS_FREQUENCY):
                waiting[part.sheet.file, "frequency"].append((part, problem))
    asked = {
        "date_order": (("the day first", "the month first"), "day_first = true"),
        "frequency": (("50 Hz", "60 Hz"), "frequency = 50"),
    }
    for (_, subject), cells in waiting.items():
        part, problem = cells[0]
        candidates, answer = asked[subject]
        book.ask(
            subject,
            problem.found,
            candidates,
            sheet=part.sheet,
            cell=book.cell(part.raw_rows[problem.position], problem.column),
            cells=len(cells),
            answer=answer,
        )
