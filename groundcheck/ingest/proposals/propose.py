"""A column map for sources that explain themselves only in part: what each line rests on stands beside it."""

import json

from groundcheck.ingest.mapping.column_map import ColumnMap
from groundcheck.ingest.mapping.feeds import Feed, Layout, feed_from_headings, lacks_tag
from groundcheck.ingest.mapping.headings import Match, table_columns
from groundcheck.ingest.proposals.impedance_columns import find_impedances
from groundcheck.ingest.proposals.station_codes import StationCode, find_containers, find_station_code
from groundcheck.ingest.readers.sources import Sources, find_files, read_files
from groundcheck.ingest.sheets import Sheet, is_blank
from groundcheck.ingest.tables.header_row import find_regions
from groundcheck.ingest.tables.table_choice import best_table, choose_tables
from groundcheck.ingest.values import read_column
from groundcheck.schema import INVENTORY_TABLES

# Where a table has no tag of its own, the columns that together tell its assets apart.
_TAG_FROM = {
    "transformer": ("hv_bus", "lv_bus"),
    "line": ("from_bus", "to_bus"),
    "switch": ("bus_a", "bus_b"),
    "bond": ("equipment",),
    "inspection": ("asset", "date"),
    "insulation": ("bus", "kind"),
    "arrester": ("bus",),
    "infeed": ("bus",),
    "generator": ("bus",),
    "neutral_device": ("connected_to",),
    "grounding_transformer": ("bus",),
    "ground_relay": ("measures", "function"),
    "ground_detector": ("bus",),
    "ground_grid": ("substation",),
    "instrument_transformer": ("bus", "kind"),
    "secondary_circuit": ("instrument_transformer",),
}


def propose_columns(sources: Sources) -> str:
    """
    Propose a column map, as TOML: a line for each field that the headings do not settle by themselves.

    Raises
    ------
    SourceNotFound
        A path does not exist.
    NothingRead
        There is no file of a kind that is read.
    """
    tables = []
    for source in read_files(find_files(sources)):
        for sheet in source.sheets:
            for region in find_regions(sheet):
                layout = choose_tables(region, sheet, ColumnMap())
                only = len(source.sheets) == 1
                tables.append((sheet, layout, sheet.file if only else sheet.label))
    containers = find_containers([(sheet, layout) for sheet, layout, _ in tables])
    parts = [_propose_table(sheet, layout, label, containers) for sheet, layout, label in tables]
    return "\n".join(["# Column map: check each line; delete what is wrong.", *parts])


def _propose_table(sheet: Sheet, layout: Layout, label: str, containers: frozenset[str]) -> str:
    headings = layout.region.headings
    if layout.feeds:
        feed, left = layout.feeds[0], layout.left
    else:
        feed, left = feed_from_headings(headings, best_table(layout.region, sheet))
    lines: list[str] = []
    settings: list[str] = []
    taken: set[int] = set()
    if lacks_tag(feed):
        lines += _tag_lines(feed, headings)
    if "substation" not in feed.fields:
        code = find_station_code(sheet, layout.region, feed, containers)
        if code is not None:
            lines.append(_station_line(code))
            settings += [f"bus_station = {_quoted(code.pattern)}  # a bus with another code stands in another station"]
    impedances = find_impedances(sheet, layout.region, feed)
    if impedances is not None:
        settings += [f"impedance_base = 100  # MVA: {impedances.why}"] if impedances.on_common_base else []
        lines += [f"fields.{name} = {text}  # by heading" for name, text in impedances.fields.items()]
        taken |= impedances.columns
    lines += [
        f"fields.{name} = {_quoted(headings[source.columns[0]])}  # close match {source.certainty:.2f}"
        for name, source in feed.fields.items()
        if source.how == "close match"
    ]
    notes = _notes(layout, feed, left, headings, taken)
    head = f"\n# {label}: {feed.table}"
    if not lines and not settings:
        return "\n".join([f"{head}; its headings need no entry", *notes])
    opening = ["[[sheet]]", f"match = {_quoted(label.replace('[', '[[]'))}", f'table = "{feed.table}"']
    return "\n".join([head, *opening, *settings, *lines, *_word_notes(sheet, layout, feed), *notes])


def _tag_lines(feed: Feed, headings: dict[int, str]) -> list[str]:
    tag = INVENTORY_TABLES[feed.table].asset_column()
    named = [feed.fields[name].columns[0] for name in _TAG_FROM.get(feed.table, ()) if name in feed.fields]
    if not named:
        return [f"# fields.{tag} = ...  # no heading gives the tag: name the column"]
    if len(named) == 1:
        return [f"fields.{tag} = {_quoted(headings[named[0]])}  # no heading gives a tag"]
    joined = ", ".join(_quoted(headings[column]) for column in named)
    return [f'fields.{tag} = {{ join = [{joined}], with = " - " }}  # no heading gives a tag']


def _station_line(code: StationCode) -> str:
    within = f", within = {_quoted(code.within)}" if code.within else ""
    source = f"from = {_quoted(code.heading)}, pattern = {_quoted(code.pattern)}{within}"
    return f"fields.substation = {{ {source} }}  # {code.why}"


def _notes(layout: Layout, feed: Feed, left: dict[int, Match], headings: dict[int, str], taken: set[int]) -> list[str]:
    """Comments: what the aliases settle, what is ambiguous, what feeds nothing."""
    notes = [
        f"# {_quoted(headings[source.columns[0]])} feeds {other.table}.{name} (alias)"
        for other in (layout.feeds or [feed])
        for name, source in other.fields.items()
        if source.how == "alias"
    ]
    for column, match in layout.left.items() if layout.feeds else left.items():
        if column in taken:
            continue
        heading = _quoted(headings[column])
        candidates = match.candidates
        if match.how == "ambiguous":
            notes += [f"# fields.{name} = {heading}  # ambiguous: {' or '.join(candidates)}" for name in candidates]
        else:
            likely = f"; nearest {', '.join(candidates)}" if candidates else ""
            notes.append(f"# {heading} feeds nothing{likely}")
    return notes


def _word_notes(sheet: Sheet, layout: Layout, feed: Feed) -> list[str]:
    """Words that no vocabulary knows, each as a line to complete."""
    notes = []
    for name, source in feed.fields.items():
        column = table_columns(feed.table)[name]
        if column.kind != "choice":
            continue
        cells = [sheet.rows[i][source.columns[0]] for i in layout.region.body if source.columns[0] < len(sheet.rows[i])]
        cells = [cell for cell in cells if not is_blank(cell)]
        accepted = ", ".join(column.accepted or ())
        unknown: dict[str, int] = {}
        for index in read_column(cells, column).problems:
            unknown[str(cells[index])] = unknown.get(str(cells[index]), 0) + 1
        notes += [
            f"# words.{name} = {{ {_quoted(word)} = ... }}  # in {count} rows; one of {accepted}"
            for word, count in list(unknown.items())[:5]
        ]
    return notes


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
