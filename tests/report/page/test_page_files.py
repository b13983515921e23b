"""What is written: sizes, times, libraries, station files, and hostile text that stays text."""

import hashlib
import os
import re
import shutil
import time
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from groundcheck.report.cell_text import clean_text
from groundcheck.report.page import assets, write_page
from groundcheck.report.page.chunks import chunk
from groundcheck.report.page.margin import margin
from groundcheck.report.page.pairs import name_of, stations_with_findings
from groundcheck.report.page.pictures import Frames
from groundcheck.report.page.station_files import station_files
from groundcheck.report.page.stations_index import chunk_name
from groundcheck.store import Store

Show = Callable[..., Any]


def test_sample_is_under_three_megabytes_and_three_seconds(sample_store: Store, tmp_path: Path) -> None:
    started = time.process_time()
    write_page(sample_store, tmp_path / "report.html")
    assert time.process_time() - started < 3
    assert (tmp_path / "report.html").stat().st_size < 3e6
    assert [path.name for path in tmp_path.iterdir()] == ["report.html"]


def test_nothing_is_asked_of_a_network(sample_page: Path) -> None:
    text = sample_page.read_text()
    policy = re.search(r'Content-Security-Policy" content="([^"]+)"', text)
    assert policy
    assert "default-src &#39;none&#39;" in policy[1]
    assert "unsafe-eval" not in policy[1]
    assert "unsafe-inline" not in policy[1].partition("style-src")[0]
    assert not re.search(r"<(?:script|link|img|iframe)[^>]+(?:src|href)=", text.partition("<script>")[0])


def test_carried_libraries_are_those_of_the_manifest() -> None:
    folder = files("groundcheck.report.page") / "vendored"
    for each in assets.libraries():
        assert hashlib.sha256((folder / each["file"]).read_bytes()).hexdigest() == each["sha256"], each["file"]
        assert "MIT" in (folder / each["license_file"]).read_text()
    named = {each["file"] for each in assets.libraries()} | {each["license_file"] for each in assets.libraries()}
    assert {path.name for path in folder.iterdir()} == named | {"manifest.json"}


def test_names_of_station_files_are_safe_and_their_own() -> None:
    names = ["HAR", "har", "H/AR", "../x", "CON", "محطة", "", "a" * 300, "x\ny", "H AR"]
    made = [chunk_name(name) for name in names]
    assert len({name.lower() for name in made}) == len(names)
    assert all(re.fullmatch(r"[A-Za-z0-9-]{1,43}", name) for name in made)


def test_margin_is_percent_of_what_is_required() -> None:
    assert margin(400.0, 640.0) == -37.5
    assert margin(150.0, 100.0) == 50.0
    assert margin(float("inf"), 1.0) is None
    assert margin(1.0, 0.0) is None
    assert margin(None, 1.0) is None


def test_a_large_fleet_loads_a_station_when_asked(sample_store: Store, show: Show, tmp_path: Path) -> None:
    write_page(sample_store, tmp_path / "report.html", one_file=False)
    page = show(tmp_path / "report.html", "view=station&station=HAR")
    page.wait_for_selector("#station[data-ready]")
    assert page.locator("#station .diagram svg").count() == 1
    (stations,) = sample_store.sql("SELECT count(*) FROM inventory.substation").fetchall()[0]
    assert len(list((tmp_path / "report_stations").iterdir())) >= stations
    page.locator("#station a[data-finding]").first.click()
    page.wait_for_selector("#finding .working")
    (tmp_path / "report_stations" / f"{chunk_name('LIN')}.js").rename(tmp_path / "away.js")


def test_without_its_folder_the_page_says_what_to_do(
    filled_store: Store, fill: Any, finding: dict[str, Any], show: Show, tmp_path: Path
) -> None:
    fill(filled_store, "audit.finding", finding | {"finding": "alone"})
    write_page(filled_store, tmp_path / "report.html", one_file=False)
    shutil.rmtree(tmp_path / "report_stations")
    page = show(tmp_path / "report.html", "view=findings&finding=alone", lost=True)
    page.wait_for_selector("#finding .problem")
    said = page.inner_text("#finding .problem")
    assert "report_stations/" in said
    assert "Keep the folder report_stations beside this file" in said
    assert page.locator("#finding .stands").count() == 1  # what the page itself knows is shown all the same


def test_the_folder_says_what_the_one_file_says(
    filled_store: Store, fill: Any, finding: dict[str, Any], tmp_path: Path
) -> None:
    for station in ("ASH", "~ not on record", ""):
        fill(filled_store, "audit.finding", finding | {"finding": f"of {station}", "substation": station})
    pairs = list(stations_with_findings(filled_store))
    with station_files(filled_store, tmp_path / "report_stations") as written:
        frames = written()
    expected: Frames = {}
    for station, own in pairs:
        name = name_of(station, own)
        text = (tmp_path / "report_stations" / f"{name}.js").read_text()
        assert text == f'groundcheckStation("{name}","{chunk(station, own, expected, 3)}");\n'
    assert frames == expected
    assert [path.name for path in tmp_path.iterdir()] == ["report_stations"]  # the copy of the store is gone
    assert len(list((tmp_path / "report_stations").iterdir())) == len(pairs)


def test_hostile_text_is_shown_as_written(
    filled_store: Store, fill: Any, finding: dict[str, Any], hostile_texts: dict[str, str], show: Show, tmp_path: Path
) -> None:
    texts = [*hostile_texts.values(), "<img src=x onerror=alert(1)> & </script><script>alert(2)</script>"]
    for number, text in enumerate(texts):
        station = f"{text}{number}"
        fields = ("asset", "message", "actual", "required", "unit", "source_file", "sheet", "cell", "remedy", "working")
        fields = (*fields, "caution", "basis", "district", "item", "waiver")
        row = finding | {"finding": f"h-{number}", "substation": station} | dict.fromkeys(fields, text)
        fill(filled_store, "audit.finding", row)
        fill(
            filled_store,
            "inventory.substation",
            dict.fromkeys(("name", "district", "owner"), text) | {"substation": station},
        )
        fill(filled_store, "inventory.bus", {"substation": station, "bus": text, "nominal_voltage": 33.0})
        evidence = {"finding": f"h-{number}", "position": 1, "role": "input", "computed": False, "input": "bus.bus"}
        fill(
            filled_store, "audit.evidence", evidence | dict.fromkeys(("asset", "value", "sheet", "cell", "found"), text)
        )
    filled_store.connection.execute("UPDATE audit.rule SET why = ?, title = ? WHERE problem IS NULL", [texts[-1]] * 2)
    write_page(filled_store, tmp_path / "report.html")
    page = show(tmp_path / "report.html", "view=fleet")
    page.fill("#filters-q", "onerror")  # search decodes what looks like markup
    page.wait_for_selector("#chips .chip")
    assert texts[-1] in page.inner_text("#findings")
    for number in range(len(texts)):
        page.evaluate("address => { location.hash = address; }", f"view=findings&finding=h-{number}")
        page.wait_for_selector("#finding h3")
        page.wait_for_selector("#finding table")
        assert "".join(clean_text(texts[number]).split()) in "".join(page.inner_text("#finding").split())
    page.evaluate(
        "name => { location.hash = 'view=station&station=' + encodeURIComponent(name); }",
        f"{texts[-1]}{len(texts) - 1}",
    )
    page.wait_for_selector("#station .diagram svg")
    assert texts[-1] in page.inner_text("#h-station")
    assert page.locator("img").count() == 0


@pytest.mark.skipif("GROUNDCHECK_LARGE_STORE" not in os.environ, reason="GROUNDCHECK_LARGE_STORE names no store")
def test_a_hundred_thousand_findings_open_in_two_seconds(show: Show, tmp_path: Path) -> None:
    with Store(os.environ["GROUNDCHECK_LARGE_STORE"]) as store:
        started = time.perf_counter()
        write_page(store, tmp_path / "report.html")
        print(f"written in {time.perf_counter() - started:.1f} s")
    assert (tmp_path / "report.html").stat().st_size < 10e6
    page = show(tmp_path / "report.html", "view=findings")
    assert int(page.get_attribute("html", "data-ready")) < 2000  # ms since the page was asked for
