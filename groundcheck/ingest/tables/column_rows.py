"""What became of every heading of a table, as stage raw keeps it."""

from typing import Any

from groundcheck.ingest.mapping.feeds import Feed, Layout, Source
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.sheets import Sheet
from groundcheck.ingest.tables.column_names import column_name
from groundcheck.ingest.tables.header_row import Region


def column_rows(sheet: Sheet, layout: Layout) -> list[dict[str, Any]]:
    """One row for each field that a heading feeds, and one for each heading that feeds none."""
    region = layout.region
    rows = [_fed_row(sheet, region, feed, name) for feed in layout.feeds for name in feed.fields]
    fed = {row["column_letter"] for row in rows}
    beside = {c: (feed, name) for feed in layout.feeds for name, s in feed.fields.items() for c in s.columns[1:]}
    for column, heading in (region.headings | region.aside).items():
        letter = column_name(sheet, region, column)
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
        "column_letter": column_name(sheet, region, column),
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
        "candidates": _part_named(source, name),
    }


def _part_named(source: Source, name: str) -> str | None:
    return f"part {source.parts.index(name) + 1} of {len(source.parts)}" if source.parts else None
