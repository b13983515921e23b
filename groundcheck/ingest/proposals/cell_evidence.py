"""Columns of unknown heading that their cells give away: vector groups, words of a vocabulary, voltages, known tags."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.proposals.known_tags import KnownTags, column_of, kinds_named, plain_cells
from groundcheck.ingest.proposals.network_voltages import NETWORK_KV
from groundcheck.ingest.proposals.proposal import Line, Proposal
from groundcheck.ingest.tables.heading_questions import answer_line
from groundcheck.ingest.values import heading_unit, read_column
from groundcheck.schema import Column

_NEARLY_ALL = 0.95
_FEWEST = 3  # cells: fewer prove nothing
_SIDES = ("hv_voltage", "lv_voltage")
_VOLTS = re.compile(r"\b(k?v|volts?|voltages?)\b", re.IGNORECASE)


@dataclass(frozen=True)
class Fit:
    """A field that the cells of a column fit; not firm if other quantities look alike."""

    name: str
    why: str
    firm: bool = True


def propose_by_cells(proposal: Proposal, known: KnownTags) -> None:
    """Add a line for each column of unknown heading that fits one free field; where several fit, comments."""
    fits: dict[int, list[Fit]] = {}
    for column, match in proposal.left.items():
        if match.how == "unmapped" and not match.candidates and column not in proposal.fed:
            fits[column] = list(_fits(proposal, column, known))
    _tell_sides_apart(proposal, fits)
    claims = [fit.name for found in fits.values() for fit in found]
    for column, found in fits.items():
        for fit in found:
            line = Line(answer_line(fit.name, column, proposal.layout, proposal.sheet), fit.why)
            if len(found) == 1 and claims.count(fit.name) == 1 and fit.firm:
                proposal.lines.append(line)
                proposal.fed.add(column)
            else:
                others = [other.name for other in found if other is not fit]
                proposal.comments.append(f"# {line.written()}" + (f"; or {' or '.join(others)}" if others else ""))


def _fits(proposal: Proposal, column: int, known: KnownTags) -> Iterator[Fit]:
    cells = proposal.cells(column)
    table = proposal.feed.table
    for name, facts in table_columns(table).items() if len(cells) >= _FEWEST else ():
        if name in proposal.given:
            continue
        firm = True
        kinds = kinds_named(table, name, facts)
        if facts.kind == "vector_group":
            share, what = _readable(cells, facts), "vector groups"
        elif facts.kind == "choice":
            share, what = _readable(cells, facts), f"words for {name}"
        elif facts.kind == "quantity" and facts.unit == "kV" and facts.required:
            share, firm = _voltages(cells, facts, proposal.headings[column])
            what = "voltages of networks"
        elif kinds and kinds != (table,):
            share = known.share(kinds, _tags(proposal, column))
            what = f"tags that another column gives a {' or '.join(kinds).replace('_', ' ')}"
        else:
            continue
        if share >= _NEARLY_ALL:
            count = "all" if share == 1 else f"{round(share * len(cells)):,} of"
            yield Fit(name, f"{share:.2f}: {count} {len(cells):,} cells are {what}", firm)


def _readable(cells: list[object], facts: Column) -> float:
    """The share of the cells that are read as they stand; digits alone are no words."""
    if not all(isinstance(cell, str) for cell in cells) or all(str(cell).strip().isdigit() for cell in cells):
        return 0.0
    reading = read_column(cells, facts)
    return sum(value is not None and i not in reading.notes for i, value in enumerate(reading.values)) / len(cells)


def _voltages(cells: list[object], facts: Column, heading: str) -> tuple[float, bool]:
    """The share of the cells that are voltages of networks, and whether heading or cells say that they are volts."""
    unit = heading_unit(heading)[1]
    if unit not in (None, "kV", "V"):
        return 0.0, False
    said = unit is not None or any(_VOLTS.search(text) for text in (heading, *filter(_is_text, map(str, cells))))
    values = read_column(cells, facts, unit=unit).values
    return sum(value in NETWORK_KV for value in values) / len(cells), said


def _is_text(text: str) -> bool:
    return not text.replace(".", "", 1).isdigit()


def _tell_sides_apart(proposal: Proposal, fits: dict[int, list[Fit]]) -> None:
    """Of two columns of voltages for the two sides of a transformer, the one that is higher in every row is HV."""
    columns = [column for column, found in fits.items() if tuple(fit.name for fit in found) == _SIDES]
    if len(columns) != 2:
        return
    facts = table_columns("transformer")["hv_voltage"]
    first, second = (read_column(proposal.cells(column), facts).values for column in columns)
    if len(first) != len(second):
        return
    above = [
        a > b for a, b in zip(first, second, strict=True) if isinstance(a, float | int) and isinstance(b, float | int)
    ]
    if not above or any(above) != all(above):
        return
    for column, side in zip(columns if above[0] else columns[::-1], (0, 1), strict=True):
        fit = fits[column][side]
        why = f"{fit.why}, the {('higher', 'lower')[side]} of the two in every row"
        fits[column] = [Fit(fit.name, why, fit.firm)]


def _tags(proposal: Proposal, column: int) -> list[tuple[str, str]]:
    station = column_of(proposal.feed.fields, "substation")
    tags = plain_cells(proposal.sheet, proposal.layout, column)
    stations = plain_cells(proposal.sheet, proposal.layout, station)
    return [pair for pair in zip(stations, tags, strict=True) if pair[1]]
