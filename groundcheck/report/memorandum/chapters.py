"""The findings of a memorandum by station, with the station's one-line diagram."""

import re
from collections.abc import Collection, Iterable
from itertools import groupby
from typing import Any

from groundcheck.report.facts import FindingFacts, StationFacts, finding_facts, station_facts
from groundcheck.report.field_names import kind_in_words
from groundcheck.report.memorandum.room import Room
from groundcheck.report.one_line import one_line_svg
from groundcheck.report.rows import fetch
from groundcheck.schema import INVENTORY_TABLES, STUDY_TABLES
from groundcheck.store import Store

_VIEW = re.compile(r"viewBox=['\"][\d.-]+ [\d.-]+ ([\d.]+) ([\d.]+)['\"]")


def chapters(
    store: Store, stations: Collection[str], findings: Collection[str] | None, room: Room
) -> dict[str, dict[str, Any]]:
    """A chapter for each of the stations that has a finding to show; `findings` None: all of them."""
    told = finding_facts(
        store,
        substations=None if findings is not None else stations,
        findings=findings,
        basis_limit=room.basis,
    )
    by_station = {station: list(found) for station, found in groupby(told, key=lambda finding: finding["substation"])}
    drawn = {facts["substation"]: facts for facts in station_facts(store, list(by_station))} if room.diagrams else {}
    query = "SELECT substation, any_value(name), any_value(owner) FROM inventory.substation GROUP BY substation"
    named = {station: (name, owner) for station, name, owner in fetch(store, query)}
    return {
        station: _chapter(*named.get(station, (None, None)), drawn.get(station), found)
        for station, found in by_station.items()
    }


def _chapter(
    name: str | None, owner: str | None, station: StationFacts | None, findings: list[FindingFacts]
) -> dict[str, Any]:
    code = findings[0]["substation"]
    diagram = one_line_svg(station, findings, standalone=True) if station else None
    width, height = size_of(diagram) if diagram else (None, None)
    return {
        "substation": code,
        "name": name,
        "owner": owner,
        "diagram": diagram,
        "diagram_width": width,
        "diagram_height": height,
        "diagram_says": f"One-line diagram of {name or code}, drawn from the records; "
        f"{len(findings)} of its findings are told in this chapter.",
        "findings": [_finding(finding) for finding in findings],
    }


def size_of(svg: str) -> tuple[float, float]:
    """Width and height of a drawing in its own units."""
    box = _VIEW.search(svg)
    if box is None:
        raise ValueError("the drawing has no viewBox")
    return float(box[1]), float(box[2])


def _finding(finding: FindingFacts) -> dict[str, Any]:
    shown: dict[str, Any] = {**finding, "asset_kind": kind_in_words(finding["asset_kind"])}
    own: list[dict[str, Any]] = []
    beneath: list[dict[str, Any]] = []
    for each in finding["evidence"]:
        (own if each["role"] == "input" else beneath).append({**each, "name": input_in_words(each["input"])})
    shown["inputs"], shown["beneath"], shown["beneath_left_out"] = own, beneath, finding["evidence_left_out"]
    shown["assumed"] = [{**each, "name": input_in_words(each["field"])} for each in finding["assumed"]]
    for name in ("evidence", "evidence_left_out"):
        del shown[name]
    return shown


def input_in_words(name: str) -> str:
    """'neutral_duty.current_a' as 'neutral duty: current'; the unit stands with the value."""
    table, _, column = name.partition(".")
    model = INVENTORY_TABLES.get(table) or STUDY_TABLES.get(table)
    facts = model.columns().get(column) if model else None
    if facts and facts.unit:
        column = column.removesuffix("_" + facts.unit.lower())
    return f"{kind_in_words(table)}: {kind_in_words(column)}" if column else kind_in_words(table)


def named_stations(groups: Iterable[Iterable[str]]) -> list[str]:
    """All stations of the groups, once each."""
    return sorted({station for group in groups for station in group})
