"""Writing report.html and, beside it, the stations of a large fleet."""

from pathlib import Path
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined

from groundcheck.own_files import REPORT
from groundcheck.progress import Progress
from groundcheck.report.page import assets, vega
from groundcheck.report.page.chunks import chunk
from groundcheck.report.page.findings_index import findings_index
from groundcheck.report.page.front import front
from groundcheck.report.page.looks import color_rules, mark_words
from groundcheck.report.page.matrix import matrix
from groundcheck.report.page.missing_index import missing_index
from groundcheck.report.page.packing import packed
from groundcheck.report.page.pairs import name_of, stations_with_findings
from groundcheck.report.page.pictures import Frames, diagram_key, fleet_pictures
from groundcheck.report.page.rules_shown import rules_shown
from groundcheck.report.page.station_files import station_files
from groundcheck.report.page.stations_index import chunk_name, stations_index
from groundcheck.report.rows import fetch
from groundcheck.store import Store

FOLDER = "report_stations"
ONE_FILE_FINDINGS = 2_000
ONE_FILE_STATIONS = 500


def write_page(store: Store, path: Path, progress: Progress | None = None, *, one_file: bool | None = None) -> None:
    """
    Write the page at `path`; of a large fleet, the stations' details go to the folder report_stations beside it.

    `one_file` decides what is large, where the counts are not to.
    """
    path = Path(path)
    library = vega.bundle()  # made while the store is read
    (stations, findings) = fetch(
        store, "SELECT (SELECT count(*) FROM inventory.substation), (SELECT count(*) FROM audit.finding)"
    )[0]
    if one_file is None:
        one_file = findings <= ONE_FILE_FINDINGS and stations <= ONE_FILE_STATIONS
    if progress:
        progress.stage("page, stations", stations)
    chunks: dict[str, str] = {}
    if one_file:
        frames: Frames = {}
        for station, own in stations_with_findings(store):
            chunks[name_of(station, own)] = chunk(station, own, frames)
            if progress:
                progress.advance()
        data = _fleet(store, None) | {"frames": frames}
    else:
        with station_files(store, path.parent / FOLDER, progress) as written:
            data = _fleet(store, FOLDER)  # while the stations are written
            data["frames"] = written()
    path.write_text(_page(store, data, chunks, library.result(), one_file), encoding="utf-8")


def _fleet(store: Store, folder: str | None) -> dict[str, Any]:
    """What the page holds of the fleet as a whole."""
    findings, stations = findings_index(store), stations_index(store)
    return {
        "findings": findings,
        "missing": missing_index(store),
        "stations": stations,
        "matrix": matrix(store),
        "rules": rules_shown(store),
        "marks": mark_words(),
        "pictures": fleet_pictures(store),
        "runs": [[run, str(made_at)[:10]] for run, made_at in fetch(store, "SELECT run, made_at FROM audit.run")],
        "folder": folder,
        "elsewhere": _elsewhere(findings, stations),
    }


def _elsewhere(findings: dict[str, Any], stations: dict[str, Any]) -> dict[str, str]:
    """Where the details lie of findings at what is no station on record."""
    known = set(stations["columns"]["substation"]["words"])
    return {name: chunk_name(name) for name in findings["columns"]["substation"]["words"] if name not in known}


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
