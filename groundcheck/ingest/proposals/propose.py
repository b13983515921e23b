"""A column map for sources that explain themselves only in part: what each line rests on stands beside it."""

import tomllib

from groundcheck.ingest.answers.forms import find_forms
from groundcheck.ingest.mapping.column_map import ColumnMap
from groundcheck.ingest.mapping.feeds import feed_from_headings
from groundcheck.ingest.mapping.sheet_entry import read_sheet_entry
from groundcheck.ingest.proposals.entry_lines import fill_entry
from groundcheck.ingest.proposals.heading_notes import note_headings
from groundcheck.ingest.proposals.known_tags import KnownTags
from groundcheck.ingest.proposals.proposal import Proposal
from groundcheck.ingest.proposals.sheet_groups import group_proposals, patterns_for
from groundcheck.ingest.proposals.station_codes import find_containers
from groundcheck.ingest.proposals.station_names import note_station_names
from groundcheck.ingest.readers.files import read_files
from groundcheck.ingest.readers.found import find_files
from groundcheck.ingest.readers.sources import Sources
from groundcheck.ingest.sheets import Sheet, SourceFile
from groundcheck.ingest.tables.compound_headings import settle_compounds
from groundcheck.ingest.tables.header_row import find_regions
from groundcheck.ingest.tables.table_choice import best_table, choose_tables
from groundcheck.ingest.tables.turned import turn_sheet
from groundcheck.ingest.toml_text import quoted
from groundcheck.progress import Progress

_OPENING = (
    "# Column map: check each line and delete what is wrong. The number after # is how sure the line is, 0 to 1.\n"
    "# What is commented out waits for you: remove the # of what is right."
)


def propose_columns(sources: Sources, progress: Progress | None = None) -> str:
    """
    Propose a column map, as TOML: a line for each field that the headings do not settle by themselves.

    Raises
    ------
    SourceNotFound
        A path does not exist.
    NothingRead
        There is no file of a kind that is read.
    """
    files = find_files(sources).files
    if progress is not None:
        progress.stage("reading", len(files))
    proposals = [proposal for source in read_files(files, progress=progress) for proposal in _start(source)]
    containers = find_containers([(proposal.sheet, proposal.layout) for proposal in proposals])
    known = KnownTags()
    for proposal in proposals:
        known.add(proposal.sheet, proposal.layout)
    for proposal in proposals:
        fill_entry(proposal, containers, known)
        _apply(proposal)
        note_headings(proposal)
    sheets = [proposal.sheet for proposal in proposals]
    parts = [_write(group, sheets) for group in group_proposals(proposals)]
    names = note_station_names([(proposal.sheet, proposal.layout) for proposal in proposals])
    return "\n".join([_OPENING, *parts, *names]) + "\n"


def _start(source: SourceFile) -> list[Proposal]:
    """The tables of a file, as their headings alone tell them."""
    proposals = []
    forms = find_forms(source.sheets)
    for sheet in source.sheets:
        if (sheet.file, sheet.name) in forms:
            continue
        label = sheet.file if len(source.sheets) == 1 else sheet.label
        layouts = []
        sheet.drop_trailing_blanks()
        turn_sheet(sheet)
        for region in find_regions(sheet):
            layout = choose_tables(region, sheet, ColumnMap())
            settle_compounds(sheet, layout)
            layouts.append(layout)
        for layout in layouts:
            feed, left = (layout.feeds[0], layout.left) if layout.feeds else (None, layout.left)
            if feed is None:
                feed, left = feed_from_headings(layout.region.headings, best_table(layout.region, sheet))
            beside = [other for other in layouts if other is not layout]
            proposals.append(Proposal(sheet, label, layout, feed, left, beside=beside))
    return proposals


def _apply(proposal: Proposal) -> None:
    """Let the layout be the one that the entry gives, so that what is said of other headings holds with it."""
    if proposal.lines or proposal.settings:
        (entry,) = tomllib.loads(_entry(proposal, []))["sheet"]
        asked = ColumnMap(sheets=[read_sheet_entry(entry, proposal.label)])
        proposal.layout = choose_tables(proposal.layout.region, proposal.sheet, asked)
        settle_compounds(proposal.sheet, proposal.layout)


def _entry(proposal: Proposal, patterns: list[str]) -> str:
    lines = ["[[sheet]]"]
    if patterns:
        names = [quoted(pattern) for pattern in patterns]
        lines.append(f"match = {names[0]}" if len(names) == 1 else f"match = [{', '.join(names)}]")
    if proposal.own_headings:
        lines.append(f"headings = [{', '.join(map(quoted, proposal.own_headings))}]")
    lines.append(f"table = {quoted(proposal.feed.table)}")
    return "\n".join([*lines, *(line.written() for line in (*proposal.settings, *proposal.lines))])


def _write(group: list[Proposal], sheets: list[Sheet]) -> str:
    """The entry of sheets with the same headings, under a line that names them."""
    first = group[0]
    labels = [proposal.label for proposal in group]
    head = f"\n# {', '.join(labels)}: {first.feed.table}"
    if not first.lines and not first.settings:
        return "\n".join([f"{head}; its headings need no entry", *first.notes])
    ours = [proposal.sheet for proposal in group]
    others = [sheet for sheet in sheets if not any(sheet is own for own in ours)]
    return "\n".join([head, _entry(first, patterns_for(labels, others)), *first.notes])
