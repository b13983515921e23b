"""From sheets to records: every row entered in the book with its use, every heading with what became of it."""

from dataclasses import dataclass, field
from typing import Any

from groundcheck.errors import ColumnMapError
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.column_map import ColumnMap
from groundcheck.ingest.mapping.feeds import Feed, Layout, missing_headings
from groundcheck.ingest.mapping.headings import normalize, table_columns
from groundcheck.ingest.sheets import Sheet, column_letter, is_blank
from groundcheck.ingest.tables.header_row import Region, find_regions
from groundcheck.ingest.tables.records import Records, read_records
from groundcheck.ingest.tables.row_kinds import carry_merged, row_kinds
from groundcheck.ingest.tables.table_choice import choose_tables
from groundcheck.nearest import nearest


@dataclass
class Reading:
    """All that the sheets gave: records by feed, the book of rows, the columns, and remarks by sheet."""

    book: Book = field(default_factory=Book)
    records: list[Records] = field(default_factory=list)
    columns: list[dict[str, Any]] = field(default_factory=list)
    remarks: dict[tuple[str, str], str] = field(default_factory=dict)
    layouts: list[tuple[Sheet, Layout]] = field(default_factory=list)


def read_sheets(sheets: list[Sheet], column_map: ColumnMap) -> Reading:
    """
    Read every sheet.

    Raises
    ------
    ColumnMapError
        An entry of the map fits no sheet.
    """
    reading = Reading()
    for sheet in sheets:
        _read_sheet(sheet, column_map, reading)
    _check_all_used(column_map, reading)
    return reading


def _read_sheet(sheet: Sheet, column_map: ColumnMap, reading: Reading) -> None:
    extra = frozenset(h for entry in column_map.for_sheet(sheet) for h in entry.named_headings())
    last = max((i for i, row in enumerate(sheet.rows) if any(not is_blank(c) for c in row)), default=-1)
    sheet.rows = sheet.rows[: last + 1]
    layouts = [choose_tables(region, sheet, column_map) for region in find_regions(sheet, extra)]
    reading.layouts += [(sheet, layout) for layout in layouts]
    for layout in layouts:
        reading.columns += _column_rows(sheet, layout)
    remark = sheet.remark or ("an empty sheet" if not sheet.rows else None)
    if sheet.rows and not layouts:
        remark = "no row holds headings of any canonical table, so its rows are kept as notes"
    problems = [layout.problem for layout in layouts if layout.problem]
    remark = "; ".join(filter(None, [remark, *problems])) or None
    if remark:
        reading.remarks[sheet.file, sheet.name] = remark
    _enter_rows(sheet, layouts, reading)


def _enter_rows(sheet: Sheet, layouts: list[Layout], reading: Reading) -> None:
    """Enter the rows from top to bottom; where tables stand side by side, a row is entered once for each."""
    by_body: dict[int, list[Layout]] = {}
    for layout in layouts:
        by_body.setdefault(layout.region.heading_rows[0], []).append(layout)
    row = 0
    while row < len(sheet.rows):
        beside = by_body.get(row)
        if beside is None:
            use = "blank" if all(is_blank(cell) for cell in sheet.rows[row]) else "note"
            reading.book.add(sheet, row, None, use)
            row += 1
            continue
        bands = _bands(beside, sheet)
        for layout, columns in zip(beside, bands, strict=True):
            for heading_row in layout.region.heading_rows:
                reading.book.add(sheet, heading_row, layout.region.number, "heading", columns)
            _enter_body(sheet, layout, columns, reading)
        row = beside[0].region.body.stop


def _bands(beside: list[Layout], sheet: Sheet) -> list[range | None]:
    """The columns of each of several tables side by side; None for a table that has the sheet to itself."""
    if len(beside) == 1:
        return [None]
    starts = [0, *(layout.region.columns.start for layout in beside[1:])]
    width = max(max((len(row) for row in sheet.rows), default=0), starts[-1] + 1)
    return [range(start, end) for start, end in zip(starts, [*starts[1:], width], strict=True)]


def _enter_body(sheet: Sheet, layout: Layout, columns: range | None, reading: Reading) -> None:
    region = layout.region
    kinds = row_kinds(sheet, region, columns, layout.feeds)
    carried = carry_merged(sheet, region)
    rows: list[int] = []
    raw_rows: list[int] = []
    for index, kind in zip(region.body, kinds, strict=True):
        use = "inventory" if kind == "record" else kind
        raw_row = reading.book.add(sheet, index, region.number, use, columns)
        if kind == "record" and not _in_quarantine(sheet, layout, index, raw_row, reading.book):
            rows.append(index)
            raw_rows.append(raw_row)
    cells = [carried.get(index, sheet.rows[index]) for index in rows]
    for feed in layout.feeds:
        reading.records.append(read_records(sheet, region.number, feed, rows, cells, raw_rows))


def _in_quarantine(sheet: Sheet, layout: Layout, index: int, raw_row: int, book: Book) -> bool:
    """Quarantine a row that no table takes, or that has more cells than the heading row of its file."""
    if not layout.feeds:
        book.quarantine(raw_row, layout.region.columns.start, None, "no_table", layout.problem or "")
        return True
    width = layout.region.columns.stop
    row = sheet.rows[index]
    if sheet.ragged and len(row) > width and any(not is_blank(cell) for cell in row[width:]):
        over = next(i for i in range(width, len(row)) if not is_blank(row[i]))
        expected = f"at most {width} cells, as in the heading row; a delimiter may stand inside a text without quotes"
        book.quarantine(raw_row, over, layout.feeds[0].table, "too_many_cells", expected)
        return True
    return False


def _column_rows(sheet: Sheet, layout: Layout) -> list[dict[str, Any]]:
    region = layout.region
    rows = [_fed_row(sheet, region, feed, name) for feed in layout.feeds for name in feed.fields]
    fed = {row["column_letter"] for row in rows}
    beside = {c: (feed, name) for feed in layout.feeds for name, s in feed.fields.items() for c in s.columns[1:]}
    for column, heading in region.headings.items():
        letter = column_letter(column)
        if letter in fed:
            continue
        match = layout.left.get(column)
        row = {"how": "unmapped", "certainty": 0.0, "candidates": None}
        if column in beside:
            feed, name = beside[column]
            row |= {"how": "map", "certainty": 1.0, "candidates": f"part of {feed.table}.{name}"}
        elif match is not None:
            row |= {"how": match.how, "certainty": match.certainty, "candidates": "; ".join(match.candidates) or None}
        rows.append(_base_row(sheet, region, column, heading) | row)
    return rows


def _base_row(sheet: Sheet, region: Region, column: int, heading: str) -> dict[str, Any]:
    return {
        "file": sheet.file,
        "sheet": sheet.name,
        "region": region.number,
        "column_letter": column_letter(column),
        "heading": heading,
    }


def _fed_row(sheet: Sheet, region: Region, feed: Feed, name: str) -> dict[str, Any]:
    source = feed.fields[name]
    column = source.columns[0]
    unit = source.unit or table_columns(feed.table)[name].unit
    return _base_row(sheet, region, column, region.headings[column]) | {
        "target_table": feed.table,
        "part": feed.part,
        "field": name,
        "unit": unit,
        "how": source.how,
        "certainty": source.certainty,
        "candidates": None,
    }


def _check_all_used(column_map: ColumnMap, reading: Reading) -> None:
    for entry in column_map.sheets:
        if entry.used or entry.table is None:
            continue
        fitting = [(sheet, layout) for sheet, layout in reading.layouts if entry.fits_name(sheet)]
        if not fitting:
            known = sorted({sheet.label for sheet, _ in reading.layouts})
            pattern = entry.match[0] if entry.match else ""
            near = nearest(pattern, known)
            raise ColumnMapError(f"{entry.where}: '{pattern}' matches no sheet that holds a table; nearest is '{near}'")
        sheet, layout = min(fitting, key=lambda pair: len(missing_headings(entry, pair[1].region.headings)))
        heading = missing_headings(entry, layout.region.headings)[0]
        known = [normalize(h) for h in layout.region.headings.values()]
        raise ColumnMapError(
            f"{entry.where}: {sheet.label} has no heading '{heading}'; nearest is '{nearest(heading, known)}'"
        )
