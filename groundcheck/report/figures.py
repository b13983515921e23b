"""One chart, one-line diagram or picture of phasors, as a file for a document."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import vl_convert

from groundcheck.errors import NoSuchStation, NoSuchZone, NothingToDraw
from groundcheck.nearest import nearest
from groundcheck.report.cell_text import clean_text
from groundcheck.report.charts import (
    CHARTS,
    NOTHING,
    Chart,
    Phasors,
    chart_png,
    chart_svg,
    phasors_chart,
    station_phasors,
    zone_phasors,
)
from groundcheck.report.facts import finding_facts, station_facts
from groundcheck.report.one_line import one_line_svg
from groundcheck.report.one_line.description import describe
from groundcheck.report.one_line.draw import NOTE
from groundcheck.report.one_line.read import read_model
from groundcheck.report.rows import fetch
from groundcheck.store import Store

KINDS = (*CHARTS, "one-line", "phasors")


@dataclass(frozen=True)
class Figure:
    """A figure: its title, what it shows in words, what is not drawn, and the drawing."""

    title: str
    description: str
    note: str
    svg: str
    chart: Chart | None = None
    dark: bool = False

    def png(self, scale: float) -> bytes:
        """The drawing with `scale` pixels for each of its own."""
        if self.chart:
            return chart_png(self.chart, dark=self.dark, scale=scale)
        return bytes(vl_convert.svg_to_png(self.svg, scale=scale))


def make_figure(
    store: Store, kind: str, *, station: str | None = None, zone: str | None = None, dark: bool = False
) -> Figure:
    """
    Draw one of KINDS.

    Raises
    ------
    NoSuchStation, NoSuchZone
        It is not on record, or must be named; the nearest name, or the names to choose from, are given.
    NothingToDraw
        The store holds nothing that such a figure would show.
    """
    if kind == "one-line":
        return _one_line(store, _station(store, station, kind), dark)
    if kind == "phasors":
        phasors = _phasors(store, station, zone)
        return _of_chart(phasors_chart(phasors), phasors.reason, dark)
    return _of_chart(CHARTS[kind](store), NOTHING[kind], dark)


def _of_chart(chart: Chart | None, otherwise: str, dark: bool) -> Figure:
    if chart is None:
        raise NothingToDraw(otherwise)
    return Figure(chart.title, chart.description, chart.note, chart_svg(chart, dark=dark), chart, dark)


def _one_line(store: Store, station: str, dark: bool) -> Figure:
    facts = next(iter(station_facts(store, [station])))
    findings = list(finding_facts(store, substations=[station]))
    name = facts.get("name")
    title = f"One-line diagram of {station}" + (f", {name}" if name and name != station else "")
    svg = one_line_svg(facts, findings, standalone=True, dark=dark)
    return Figure(clean_text(title), describe(read_model(facts, findings)), NOTE, svg, dark=dark)


def _station(store: Store, station: str | None, kind: str) -> str:
    known = [row[0] for row in fetch(store, "SELECT DISTINCT substation FROM inventory.substation ORDER BY substation")]
    if station is None:
        raise NoSuchStation(f"{kind} is drawn of one station; name it with --station, such as {_first(known)}")
    if station not in known:
        raise NoSuchStation(f"no station {station} on record; nearest is {nearest(station, known) or 'none'}")
    return station


def _phasors(store: Store, station: str | None, zone: str | None) -> Phasors:
    if station is None:
        return _zone_phasors(store, zone)
    found = {
        each.zone: each for each in station_phasors(next(iter(station_facts(store, [_station(store, station, "")]))))
    }
    if not found:
        raise NothingToDraw(f"No grounding zone is known at {station}.")
    if zone is None and len(found) > 1:
        raise NoSuchZone(f"{station} lies in {len(found)} grounding zones; name one with --zone: {', '.join(found)}")
    if zone is not None and zone not in found:
        raise NoSuchZone(f"no grounding zone {zone} at {station}; nearest is {nearest(zone, found)}")
    return found[zone] if zone is not None else next(iter(found.values()))


def _zone_phasors(store: Store, zone: str | None) -> Phasors:
    """Of the whole zone, whichever stations it spans."""
    known = [row[0] for row in fetch(store, "SELECT zone FROM study.zone ORDER BY zone")]
    if zone is None:
        raise NoSuchZone(f"phasors are drawn of one grounding zone; name it with --zone, such as {_first(known)}")
    if zone not in known:
        raise NoSuchZone(f"no grounding zone {zone} in the store; nearest is {nearest(zone, known) or 'none'}")
    of_zone = _records(store, "SELECT * FROM study.zone WHERE zone = ?", zone)[0]
    query = "SELECT f.* FROM study.bus_fault f JOIN study.zone_bus USING (substation, bus) WHERE zone = ?"
    return zone_phasors(of_zone, _records(store, query, zone))


def _records(store: Store, query: str, zone: str) -> Sequence[Mapping[str, Any]]:
    found = store.connection.execute(query, [zone])
    names = [column[0] for column in found.description or ()]
    return [dict(zip(names, row, strict=True)) for row in found.fetchall()]


def _first(known: Sequence[str]) -> str:
    return known[0] if known else "none, for none is on record"
