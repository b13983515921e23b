"""Writing report.html and, beside it, the stations of a large fleet."""

from collections.abc import Iterable, Iterator
from itertools import groupby
from pathlib import Path
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined

from groundcheck.own_files import REPORT
from groundcheck.progress import Progress
from groundcheck.report.facts import FindingFacts, StationFacts, finding_facts, station_facts
from groundcheck.report.page import assets, vega
from groundcheck.report.page.chunks import chunk
from groundcheck.report.page.findings_index import findings_index
from groundcheck.report.page.front import front
from groundcheck.report.page.looks import color_rules, mark_words
from groundcheck.report.page.matrix import matrix
from groundcheck.report.page.missing_index import missing_index
from groundcheck.report.page.packing import packed
from groundcheck.report.page.pictures import Frames, diagram_key, fleet_pictures
from groundcheck.report.page.rules_shown import rules_shown
from groundcheck.report.page.station_files import write_station_files
from groundcheck.report.page.stations_index import chunk_name, stations_index
from groundcheck.report.rows import fetch
from groundcheck.store import Store

FOLDER = "report_stations"
ONE_FILE_FINDINGS = 2_000
ONE_FILE_STATIONS = 500
_BASIS_LIMIT = 8

Pair = tuple[StationFacts | None, list[FindingFacts]]


def write_page(store: Store, path: Path, progress: Progress | None = None, *, one_file: bool | None = None) -> None:
    """
    Write the page at `path`; of a large fleet, the stations' details go to the folder report_stations beside it.

    `one_file` decides what is large, where the counts are not to.
    """
    path = Path(path)
    library = vega.bundle()  # made while the store is read
    stations = stations_index(store)
    findings = findings_index(store)
    if one_file is None:
        one_file = findings["rows"] <= ONE_FILE_FINDINGS and stations["rows"] <= ONE_FILE_STATIONS
    if progress:
        progress.stage("page, stations", stations["rows"])
    chunks: dict[str, str] = {}
    frames: Frames = {}
    if one_file:
        for station, own in _stations_with_findings(store):
            chunks[_name(station, own)] = chunk(station, own, frames)
            if progress:
                progress.advance()
    else:
        frames = write_station_files(_stations_with_findings(store), path.parent / FOLDER, progress)
    data = {
        "findings": findings,
        "missing": missing_index(store),
        "stations": stations,
        "matrix": matrix(store),
        "rules": rules_shown(store),
        "marks": mark_words(),
        "pictures": fleet_pictures(store),
        "frames": frames,
        "runs": [[run, str(made_at)[:10]] for run, made_at in fetch(store, "SELECT run, made_at FROM audit.run")],
        "folder": None if one_file else FOLDER,
        "elsewhere": _elsewhere(findings, stations),
    }
    path.write_text(_page(store, data, chunks, library.result(), one_file), encoding="utf-8")


def _name(station: StationFacts | None, own: list[FindingFacts]) -> str:
    return chunk_name((station["substation"] if station else own[0]["substation"]) or "")


def _elsewhere(findings: dict[str, Any], stations: dict[str, Any]) -> dict[str, str]:
    """Where the details lie of findings at what is no station on record."""
    known = set(stations["columns"]["substation"]["words"])
    return {name: chunk_name(name) for name in findings["columns"]["substation"]["words"] if name not in known}


def _stations_with_findings(store: Store) -> Iterator[Pair]:
    """Every station with its findings, then the findings of what is no station on record; streams, both by name."""
    by_station = groupby(finding_facts(store, basis_limit=_BASIS_LIMIT), key=lambda each: each["substation"] or "")
    waiting: Iterable[tuple[str, list[FindingFacts]]] = ((name, list(own)) for name, own in by_station)
    groups = iter(waiting)
    group = next(groups, None)
    for station in station_facts(store):
        while group is not None and group[0] < station["substation"]:
            yield None, group[1]
            group = next(groups, None)
        if group is not None and group[0] == station["substation"]:
            yield station, group[1]
            group = next(groups, None)
        else:
            yield station, []
    while group is not None:
        yield None, group[1]
        group = next(groups, None)


def _page(store: Store, data: dict[str, Any], chunks: dict[str, str], library: str, one_file: bool) -> str:
    environment = Environment(
        loader=PackageLoader("groundcheck.report.page", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["count"] = "{:,}".format
    scripts = [library, assets.table_script(), assets.script()]
    allowed = [assets.source_hash(each) for each in scripts]
    if not one_file:
        allowed += ["'self'", "file:"]
    return environment.get_template("page.html.j2").render(
        made_by=REPORT,
        policy_of_content=(
            f"default-src 'none'; script-src {' '.join(allowed)}; style-src 'unsafe-inline'; img-src data:; "
            "base-uri 'none'; form-action 'none'"
        ),
        scripts=scripts,
        styles=[assets.table_style(), color_rules(), assets.style()],
        front=front(store),
        rules=data["rules"],
        pictures=data["pictures"],
        diagram_key=diagram_key(),
        data=packed(data),
        chunks=chunks,
        libraries=assets.libraries(),
    )
