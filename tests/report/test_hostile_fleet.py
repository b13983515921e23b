"""A fleet whose every name is hostile, through the whole audit: each report shows it as text, and nothing acts."""

import csv
import json
import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pandas as pd
import pytest
from openpyxl import load_workbook

from groundcheck.pipeline import audit
from groundcheck.report import Wishes, write_reports
from groundcheck.report.cell_text import csv_text
from groundcheck.report.figures import make_figure
from groundcheck.report.page import write_page
from groundcheck.store import Store

RUN = "window.ran=1"
TEXTS = {
    "formula": '=HYPERLINK("https://x.invalid","x")+cmd|\' /C calc\'!A0',
    "markup": f'<img src=x onerror="{RUN}"><b>bold</b>',
    "script": f"</script></textarea></title><script>{RUN}</script><!--",
    "vector": f'"><svg onload={RUN}></svg>&amp;&#60;]]>',
    "typst": '#panic("x") #read("/etc/hostname") $x$ *b* _i_ `r` @ref <label> \\u{41} // /* ] } )',
    "one long word": "W" * 40_000,
    "right to left": "\u200f\u05de\u05d7\u05d8\u202eevil\u2066x",
    "control": "a\x00b\x07c\x1b[31md\x85e\ufffe",
    "lines": 'two "quoted"\r\nlines\u2028and\'one',
    "templates": "{{ 7*7 }}{% raise %}{# c #}${7*7}%s{0}{x.__class__}",
    "device of Windows": "CON",
    "way out": "../../../up/..\\..\\NUL.",
    "lone surrogate": "lone \ud800 here",
    "joined letters": "e\u0301\u0301\u0301\U0001f469\u200d\U0001f469\u200d\U0001f467 Z\u0310\u0317a\u0308",
}
FORMATS = ("parquet", "csv", "jsonl")


def fleet() -> dict[str, pd.DataFrame]:
    """A station for each text, with the text in every field that takes any; its resistor is too small."""
    tables: dict[str, list[dict[str, Any]]] = {}

    def add(table: str, **row: Any) -> None:
        tables.setdefault(table, []).append(row)

    for text in TEXTS.values():
        add("substation", substation=text, name=text, district=text, owner=text, frequency=50.0)
        add("bus", substation=text, bus=text, nominal_voltage=110.0)
        add("bus", substation=text, bus="M", nominal_voltage=20.0)
        add("infeed", substation=text, infeed=text, bus=text, fault_level_3ph=3000.0, x_over_r=10.0)
        add("transformer", substation=text, transformer=text, hv_bus=text, lv_bus="M", rated_power=40.0,
            hv_voltage=110.0, lv_voltage=20.0, vector_group="Dyn11", impedance=12.0, x_over_r=20.0,
            z0=12.0)  # fmt: skip
        add("neutral_device", substation=text, neutral_device=text, connected_to=text, winding="lv", kind="resistor",
            resistance=5.0, rated_current=100.0, rated_time=10.0)  # fmt: skip
        add("insulation", substation=text, insulation=text, bus="M", kind="cable", rated_line_voltage=20.0,
            cable_insulation_level=100)  # fmt: skip
        add("arrester", substation=text, arrester=text, bus="M", mcov=10.0, position="phase")
        add("ground_relay", substation=text, ground_relay=text, function=text, measures=text, pickup=5000.0,
            curve="definite_time", definite_time=1.0)  # fmt: skip
    # The frames' own kind of text holds no lone surrogate.
    return {table: pd.DataFrame(rows, dtype=object) for table, rows in tables.items()}


@pytest.fixture(scope="module")
def store() -> Iterator[Store]:
    with audit(fleet()).store as store:
        yield store


@pytest.fixture(scope="module")
def written(store: Store, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Reports in a folder that lies deep enough for a way out to be seen."""
    top = tmp_path_factory.mktemp("hostile")
    folder = top / "a" / "b" / "reports"
    write_reports(store, folder, Wishes(sheet_by_district=True, data=FORMATS, junit=folder / "outcomes.xml"))
    assert [path.name for path in top.rglob("*") if path.is_file() and folder not in path.parents] == []
    return folder


@pytest.fixture(scope="module")
def stations(store: Store) -> list[str]:
    """The stations as the record names them after reading."""
    return [name for (name,) in store.sql("SELECT substation FROM inventory.substation").fetchall()]


def test_every_station_is_audited_and_found_wanting(store: Store, stations: list[str]) -> None:
    assert len(stations) == len(TEXTS)
    found = store.sql("SELECT DISTINCT substation FROM audit.finding").fetchall()
    assert {name for (name,) in found} == set(stations)


def test_workbooks_hold_no_formula_but_our_own(written: Path) -> None:
    texts = 0
    for path in written.glob("*.xlsx"):
        for sheet in load_workbook(path):
            for row in sheet.iter_rows():
                for cell in row:
                    texts += cell.data_type == "s"
                    assert cell.data_type != "f" or "invalid" not in str(cell.value), (path.name, cell.coordinate)
                    assert cell.hyperlink is None or "invalid" not in str(cell.hyperlink.target)
    assert texts > 100


def test_csv_files_for_people_start_no_formula(written: Path) -> None:
    csv.field_size_limit(10**7)
    for name in ("findings.csv", "outcomes.csv"):
        with (written / name).open(encoding="utf-8-sig", newline="") as file:
            cells = [cell for row in csv.reader(file) for cell in row]
        assert len(cells) > 100
        assert [cell[:40] for cell in cells if csv_text(cell) != cell] == []


def test_data_files_hold_the_names_as_they_are_on_record(written: Path, stations: list[str]) -> None:
    manifest = json.loads((written / "data" / "manifest.json").read_text(encoding="utf-8"))
    files = next(table["files"] for table in manifest["tables"] if table["table"] == "findings")
    lines = (written / "data" / files["jsonl"]).read_text(encoding="utf-8").split("\n")
    assert {json.loads(line)["substation"] for line in lines if line} == set(stations)
    assert set(pd.read_parquet(written / "data" / files["parquet"])["substation"]) == set(stations)
    # Control characters and all: what the record holds, quoted.
    assert set(pd.read_csv(written / "data" / files["csv"], keep_default_na=False)["substation"]) >= {
        name
        for name in stations
        if len(name) < 32_767 and name.isprintable() and not name.startswith(("=", "+", "-", "@"))
    }


def test_outcomes_for_build_servers_are_xml(written: Path) -> None:
    cases = ElementTree.parse(written / "outcomes.xml").getroot().iter("testcase")
    assert any("<img src=x" in str(case.attrib) for case in cases)


@pytest.mark.parametrize("kind", ["one-line", "fleet", "margins", "blocking-fields"])
def test_pictures_are_svg_in_which_nothing_runs(store: Store, stations: list[str], kind: str) -> None:
    for station in stations if kind == "one-line" else stations[:1]:
        root = ElementTree.fromstring(make_figure(store, kind, station=station).svg)
        assert {element.tag.rpartition("}")[2] for element in root.iter()}.isdisjoint({"script", "img", "b"})
        assert [name for element in root.iter() for name in element.attrib if name.startswith("on")] == []


def test_memorandum_shows_markup_as_text(written: Path) -> None:
    if shutil.which("pdftotext") is None:
        pytest.skip("no pdftotext on this machine (Debian: poppler-utils)")
    shown = subprocess.run(
        ["pdftotext", "-raw", written / "inspection_findings.pdf", "-"], capture_output=True, check=True, text=True
    ).stdout
    for text in ('#panic("x")', "<img src=x", "{% raise %}", "=HYPERLINK("):
        assert text in shown.replace("\u200b", ""), text


def test_stations_with_files_of_their_own_stay_in_their_folder(store: Store, tmp_path: Path) -> None:
    folder = tmp_path / "a" / "b" / "reports"
    folder.mkdir(parents=True)
    write_page(store, folder / "report.html", one_file=False)
    made = [path for path in tmp_path.rglob("*") if path.is_file() and path.name != "report.html"]
    assert {path.parent for path in made} == {folder / "report_stations"}
    assert len(made) == len(TEXTS)
    assert [path.name for path in made if not re.fullmatch(r"[A-Za-z0-9-]{1,60}\.js", path.name)] == []
    assert "CON.js" not in {path.name for path in made}


@pytest.mark.parametrize("name", ["report.html", "rulebook.html"])
def test_nothing_runs_in_a_browser(written: Path, stations: list[str], browser: Any, name: str) -> None:
    faults: list[str] = []
    page = browser.new_page()
    page.on("dialog", lambda dialog: (faults.append(dialog.message), dialog.dismiss()))
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("request", lambda asked: faults.append(asked.url) if "invalid" in asked.url else None)
    page.goto((written / name).as_uri())
    if name == "report.html":
        page.wait_for_selector("html[data-ready]")
        lines = page.locator("#findings tbody tr")
        assert lines.count() > 10
        for at in range(0, lines.count(), 4):
            lines.nth(at).locator("a, button").first.click()
            page.keyboard.press("Escape")
        assert "<img src=x" in page.inner_text("body")
    assert page.evaluate("typeof window.ran") == "undefined"
    assert page.locator("img[src=x], svg[onload]").count() == 0
    page.close()
    assert faults == []
