"""What an entry of the column map was used for: sheets left out at its word, and entries that fit no sheet."""

from fnmatch import fnmatchcase

from groundcheck.errors import ColumnMapError
from groundcheck.ingest.mapping.column_map import ColumnMap, SheetMap
from groundcheck.ingest.mapping.feeds import Layout, missing_headings
from groundcheck.ingest.mapping.headings import normalize
from groundcheck.ingest.sheets import Sheet
from groundcheck.ingest.tables.header_row import Region
from groundcheck.nearest import nearest

LEFT_OUT = "left out at the word of the column map, so its rows are kept as notes"


def left_out(sheet: Sheet, regions: list[Region], column_map: ColumnMap) -> bool:
    """Whether the column map says that the sheet is no inventory."""
    found = False
    for entry in column_map.for_sheet(sheet):
        named = any(not missing_headings(entry, region.headings) for region in regions)
        if entry.skip and (named or not entry.headings):
            entry.used = found = True
    return found


def check_map_used(column_map: ColumnMap, sheets: list[Sheet], layouts: list[tuple[Sheet, Layout]]) -> None:
    """
    Refuse a map of which an entry or a pattern fits nothing.

    Raises
    ------
    ColumnMapError
        It names the entry and the nearest real name.
    """
    for entry in column_map.sheets:
        fitting = [(sheet, layout) for sheet, layout in layouts if entry.fits_name(sheet)]
        if entry.used or (not entry.feeds() and _reads(entry, sheets, fitting)):
            continue
        if not fitting:
            raise ColumnMapError(_no_sheet(entry, sheets, layouts))
        sheet, layout = min(fitting, key=lambda pair: len(missing_headings(entry, pair[1].region.headings)))
        missing = missing_headings(entry, layout.region.headings)
        if not missing:
            continue
        named = _as_written(entry, missing[0])
        near = nearest(named, layout.region.headings.values())
        raise ColumnMapError(f"{entry.where}: {sheet.label} has no heading '{named}'; nearest is '{near}'")
    files = sorted({sheet.file for sheet in sheets})
    names = {name for file in files for name in (file, file.rsplit("/", 1)[-1])}
    for pattern in column_map.precedence:
        if not any(fnmatchcase(name, pattern) for name in names):
            near = nearest(pattern, files)
            raise ColumnMapError(f"{column_map.name}, precedence: '{pattern}' matches no file; nearest is '{near}'")


def _reads(entry: SheetMap, sheets: list[Sheet], fitting: list[tuple[Sheet, Layout]]) -> bool:
    """Whether an entry that says only how to read is for one of the sheets."""
    if entry.skip:
        return False  # it was not used, so it left nothing out
    if entry.headings:
        return any(not missing_headings(entry, layout.region.headings) for _, layout in fitting)
    return any(entry.fits_name(sheet) for sheet in sheets)


def _no_sheet(entry: SheetMap, sheets: list[Sheet], layouts: list[tuple[Sheet, Layout]]) -> str:
    pattern = entry.match[0] if entry.match else ""
    if entry.feeds():
        near = nearest(pattern, sorted({sheet.label for sheet, _ in layouts}))
        return f"{entry.where}: '{pattern}' matches no sheet that holds a table; nearest is '{near}'"
    near = nearest(pattern, sorted({sheet.label for sheet in sheets}))
    return f"{entry.where}: '{pattern}' matches no sheet; nearest is '{near}'"


def _as_written(entry: SheetMap, heading: str) -> str:
    """A normalized heading as the entry writes it."""
    written = [name for source in entry.fields.values() for name in source.headings]
    written += [*entry.headings, *([entry.kinds_column] if entry.kinds_column else [])]
    return next((name for name in written if normalize(name) == heading), heading)
