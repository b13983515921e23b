"""What a reader does with the page, done in Chromium; what it shows is compared with the store."""

import json
import os
import re
import subprocess
from collections.abc import Callable
from pathlib import Path
from shutil import which
from typing import Any

import pytest

from groundcheck.store import Store

Show = Callable[..., Any]


def _until(page: Any, condition: str) -> None:
    """Wait for a condition; the page's policy refuses the browser's own way of waiting, which evaluates text."""
    for _ in range(100):
        if page.evaluate(condition):
            return
        page.wait_for_timeout(30)
    raise AssertionError(condition)


def _one(store: Store, query: str) -> Any:
    return store.sql(query).fetchall()[0]


def _told(page: Any) -> int:
    """The number of findings that the page says are left."""
    return int(re.sub(r"\D", "", page.inner_text("#told").split(" finding")[0]))


def test_the_head_says_what_was_found_and_the_caution(sample_store: Store, sample_page: Path, show: Show) -> None:
    page = show(sample_page)
    (total,) = _one(sample_store, "SELECT count(*) FROM audit.finding")
    assert page.inner_text("h1") == f"{total} findings."
    assert "live until proven dead" in page.inner_text("header .caution")
    for severity in ("high", "medium", "low"):
        (number,) = _one(sample_store, f"SELECT count(*) FROM audit.finding WHERE severity = '{severity}'")
        assert page.inner_text(f"#severities [data-value={severity}] strong") == str(number)
    assert page.locator("#findings tbody tr").count() == 25


def test_a_line_of_a_picture_filters_by_the_keyboard(sample_store: Store, sample_page: Path, show: Show) -> None:
    page = show(sample_page)
    page.focus("#picture-fleet summary")
    page.keyboard.press("Enter")
    button = page.locator("#picture-fleet .rows button[data-wanted*='HAR']").first
    wanted = json.loads(button.get_attribute("data-wanted"))
    button.focus()
    page.keyboard.press("Enter")
    (number,) = _one(sample_store, f"SELECT count(*) FROM audit.finding WHERE substation = '{wanted['substation']}'")
    assert _told(page) == number
    assert f"substation={wanted['substation']}" in page.url
    page.go_back()
    _until(page, "!location.hash.includes('HAR')")
    assert _told(page) == _one(sample_store, "SELECT count(*) FROM audit.finding")[0]


def test_a_mark_of_a_picture_filters_by_a_click(sample_store: Store, sample_page: Path, show: Show) -> None:
    page = show(sample_page)
    page.wait_for_selector("#picture-fleet .drawing g.mark-symbol.role-mark path")
    page.locator("#picture-fleet").scroll_into_view_if_needed()
    box = page.locator("#picture-fleet .drawing g.mark-symbol.role-mark path").last.bounding_box()
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.wait_for_selector("#chips .chip", timeout=3000)
    station = re.search(r"substation=([^&]+)", page.url)
    assert station
    (number,) = _one(sample_store, f"SELECT count(*) FROM audit.finding WHERE substation = '{station[1]}'")
    assert _told(page) == number


def test_the_matrix_filters_by_rule_and_district(sample_store: Store, sample_page: Path, show: Show) -> None:
    page = show(sample_page)
    button = page.locator("#matrix button[data-outcome=exception]").first
    rule, district = button.get_attribute("data-rule"), button.get_attribute("data-district")
    shown = int(re.sub(r"\D", "", button.inner_text().split("exception")[0]))
    button.click()
    (number,) = _one(
        sample_store, f"SELECT count(*) FROM audit.finding WHERE rule = '{rule}' AND district = '{district}'"
    )
    assert _told(page) == number == shown
    page.click("text=Clear all filters")
    assert _told(page) == _one(sample_store, "SELECT count(*) FROM audit.finding")[0]


def test_search_and_selects_leave_what_they_say(sample_store: Store, sample_page: Path, show: Show) -> None:
    page = show(sample_page, "view=findings")
    page.select_option("#filters-severity", "high")
    assert _told(page) == _one(sample_store, "SELECT count(*) FROM audit.finding WHERE severity = 'high'")[0]
    page.fill("#filters-q", "arrester")
    _until(page, "location.hash.includes('q=arrester')")
    (number,) = _one(
        sample_store,
        """
        SELECT count(*) FROM audit.finding f LEFT JOIN audit.rule r USING (rule)
        LEFT JOIN inventory.substation s USING (substation)
        WHERE f.severity = 'high' AND concat_ws(' ', f.asset_kind, f.asset, f.rule, f.message, f.actual, f.required,
            f.remedy, f.sheet, f.source_file, r.title, s.name) ILIKE '%arrester%'
        """,
    )
    assert 0 < _told(page) == number
    page.locator("#chips .chip", has_text="severity").click()
    assert "severity" not in page.url


def test_a_column_sorts_its_numbers_as_numbers(sample_page: Path, show: Show) -> None:
    page = show(sample_page, "view=findings")
    page.click("#findings th:has-text('margin') .dt-column-order")
    page.wait_for_selector("#findings th[aria-sort=descending]")
    texts = page.locator("#findings tbody tr td:nth-child(8)").all_inner_texts()
    shares = [float(text.split(" %")[0].replace(",", "")) * (-1 if "below" in text else 1) for text in texts]
    assert shares == sorted(shares, reverse=True)
    assert len(set(shares)) > 5


def test_a_finding_opens_and_closes_by_the_keyboard_alone(sample_store: Store, sample_page: Path, show: Show) -> None:
    page = show(sample_page, "view=findings&rule=neutral-devices%2Frated-current")
    link = page.locator("#findings a.opens").first
    identity = link.get_attribute("data-finding")
    link.focus()
    page.keyboard.press("Enter")
    page.wait_for_selector("#finding .working")
    said = page.inner_text("#finding")
    message, working, remedy, caution, cell = _one(
        sample_store,
        f"SELECT message, working, remedy, caution, cell FROM audit.finding WHERE finding = '{identity}'",
    )
    file, sheet = _one(sample_store, f"SELECT source_file, sheet FROM audit.finding WHERE finding = '{identity}'")
    assert page.inner_text("#finding .stands") == f"Where it stands: {file} · {sheet} · {cell}"
    for text in (message, remedy, caution, cell, *working.splitlines()):
        assert " ".join(text.split()) in " ".join(said.split())
    for file, sheet, place in sample_store.sql(
        f"SELECT source_file, sheet, cell FROM audit.evidence WHERE finding = '{identity}' AND role = 'input' "
        "AND cell IS NOT NULL"
    ).fetchall():
        assert f"{file} · {sheet} · {place}" in said
    page.keyboard.press("Escape")
    _until(page, "!document.getElementById('finding').open")
    assert page.evaluate("document.activeElement.dataset.finding") == identity


def test_a_station_has_diagram_phasors_and_duties(sample_store: Store, sample_page: Path, show: Show) -> None:
    page = show(sample_page, "view=station&station=HAR")
    page.wait_for_selector("#station[data-ready]")
    assert page.locator("#station .diagram svg").count() == 1
    (zones,) = _one(sample_store, "SELECT count(DISTINCT zone) FROM study.zone_bus WHERE substation = 'HAR'")
    assert page.locator("#station .phasors svg.marks").count() == zones
    said = page.inner_text("#station")
    for (device,) in sample_store.sql(
        "SELECT neutral_device FROM inventory.neutral_device WHERE substation = 'HAR'"
    ).fetchall():
        assert device in said
    for (message,) in sample_store.sql("SELECT message FROM audit.finding WHERE substation = 'HAR'").fetchall():
        assert message in said


def test_what_is_not_assessable_names_the_cell_to_fill_in(sample_store: Store, sample_page: Path, show: Show) -> None:
    page = show(sample_page, "view=missing")
    (number,) = _one(sample_store, "SELECT count(*) FROM audit.result WHERE outcome = 'not_assessable'")
    assert page.inner_text("#missing-told").startswith(f"{number} check")
    file, sheet, cell = _one(
        sample_store, "SELECT source_file, sheet, cell FROM audit.missing_field WHERE cell IS NOT NULL ORDER BY ALL"
    )
    page.fill("#missing-filters-q", cell)
    _until(page, "location.hash.includes('q=')")
    assert f"{file} · {sheet} · {cell}" in page.inner_text("#missing")


def test_on_paper_stands_the_whole_filtered_list(
    sample_store: Store, sample_page: Path, show: Show, tmp_path: Path
) -> None:
    if which("pdftotext") is None:
        pytest.skip("no pdftotext on this machine (Debian: poppler-utils)")
    page = show(sample_page, "view=findings&severity=high", color_scheme="dark")
    page.pdf(path=str(tmp_path / "page.pdf"), format="A4", landscape=True)
    text = subprocess.run(["pdftotext", "-layout", tmp_path / "page.pdf", "-"], capture_output=True, check=True).stdout
    printed = re.sub(r"\s", "", text.decode())
    assert "severity:high" in printed
    for (tag,) in sample_store.sql("SELECT DISTINCT asset FROM audit.finding WHERE severity = 'high'").fetchall():
        assert re.sub(r"\s", "", tag) in printed


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_barrier_that_axe_core_knows(sample_page: Path, show: Show, scheme: str) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe-playwright-python is not installed")
    page = show(sample_page, color_scheme=scheme, bypass_csp=True)  # axe-core comes in as a script of its own
    views = ("fleet&severity=high", "missing", "stations", "station&station=HAR", "rules", "about")
    for view in views if scheme == "light" or "GROUNDCHECK_LARGE_STORE" in os.environ else views[3:4]:
        page.evaluate("address => { location.hash = address; }", f"view={view}")
        page.wait_for_timeout(100)
        if view.startswith("station&"):
            page.wait_for_selector("#station[data-ready]")
        found = axe.Axe().run(page).response["violations"]
        assert not found, (view, [(each["id"], each["nodes"][0]["html"]) for each in found])


def test_the_reader_chooses_the_colors(sample_page: Path, show: Show) -> None:
    page = show(sample_page, "view=about", color_scheme="light")
    light = page.evaluate("getComputedStyle(document.body).backgroundColor")
    page.select_option("#paper", "dark")
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") != light
