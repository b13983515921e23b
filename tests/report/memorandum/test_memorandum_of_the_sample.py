"""The PDF of the sample fleet, as text and as a file, against the findings of the store."""

import re
import shutil
import subprocess
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from groundcheck.report.cautions import CAUTIONS
from groundcheck.report.facts import finding_facts
from groundcheck.report.memorandum import write_memoranda
from groundcheck.report.memorandum.basis import standards_in
from groundcheck.store import Store

pypdf = pytest.importorskip("pypdf", reason="reads links and outlines of a PDF")
pytestmark = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="needs poppler-utils (pdftotext)")


def text_of(path: Path) -> str:
    """All text, pages apart, in the order in which it stands in the file."""
    return subprocess.run(["pdftotext", "-raw", str(path), "-"], capture_output=True, text=True, check=True).stdout


def squeezed(text: str) -> str:
    """Text without blanks: where a line or a word was broken does not matter."""
    return re.sub(r"\s+", "", text)


@pytest.fixture(scope="module")
def whole(sample_store: Store, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("memorandum") / "inspection_findings.pdf"
    write_memoranda(sample_store, path)
    return path


@pytest.fixture(scope="module")
def text(whole: Path) -> str:
    return text_of(whole)


@pytest.fixture(scope="module")
def findings(sample_store: Store) -> list[Any]:
    return list(finding_facts(sample_store, basis_limit=0))


def test_every_finding_is_told_with_its_working_and_the_cells_of_its_inputs(text: str, findings: list[Any]) -> None:
    """A memorandum that leaves a number out cannot be reviewed (common practice, no source)."""
    held = squeezed(text)
    assert len(findings) > 50
    for finding in findings:
        start = held.index(f"Finding{finding['finding']},")
        told = held[max(0, start - 800) : start + 12_000]  # what stands near it, the message before
        for name in ("message", "remedy", "caution", "basis", "rule", "why", "cannot_see"):
            assert squeezed(finding[name] or "") in told, (finding["finding"], name)
        for line in finding["working"]:
            assert squeezed(line) in told, (finding["finding"], line)
        for each in finding["evidence"]:
            for name in ("value", "cell", "found"):
                assert squeezed(each[name] or "") in told, (finding["finding"], each)


def test_each_finding_has_one_number_and_one_place_for_a_photograph(text: str, findings: list[Any]) -> None:
    places = re.findall(r"Photograph, finding (\d+\.\d+)", text)
    assert len(places) == len(findings)
    # Every memorandum numbers anew: the numbers of one go up, and go back to the first station for the next.
    ordered = [tuple(int(part) for part in place.split(".")) for place in places]
    assert sum(later <= earlier for earlier, later in pairwise(ordered)) == 3


def test_pages_of_each_memorandum_are_counted_by_themselves(text: str) -> None:
    pages = re.findall(r"^page (\d+) of (\d+)$", text, re.MULTILINE)
    assert len(pages) == text.count("\f")
    at = 0
    while at < len(pages):
        last = int(pages[at][1])
        assert pages[at : at + last] == [(str(number), str(last)) for number in range(1, last + 1)]
        at += last


def test_entries_of_the_contents_lead_to_the_page_that_they_name(whole: Path) -> None:
    reader = pypdf.PdfReader(whole)
    numbers = {page.indirect_reference.idnum: place for place, page in enumerate(reader.pages)}
    pages = text_of(whole).split("\f")
    entries = 0
    for page in reader.pages:
        for each in page.get("/Annots", ()):
            link = each.get_object()
            named = re.fullmatch(r"(\d+(?:\.\d+)?) “(.*)” page (\d+)", link.get("/Contents", ""))
            if not named:
                continue
            entries += 1
            goal = pages[numbers[link["/Dest"][0].idnum]]
            assert re.search(rf"^page {named[3]} of \d+$", goal, re.MULTILINE)
            assert re.search(rf"^{re.escape(named[1])} ", goal, re.MULTILINE), named[0]
    assert entries > 89 + 4 * 7


def test_districts_are_told_in_the_running_head_and_the_cautions_in_each(text: str) -> None:
    held = squeezed(text)
    for district in ("Coast", "Northmarch", "Quillmoor Works", "Vale"):
        assert f"Inspection findings · District {district} audit 1 of" in text
    for caution in CAUTIONS:
        assert held.count(squeezed(caution)) == 4
    assert text.count("License number") == 4


def test_summary_counts_what_the_store_holds(text: str, sample_store: Store) -> None:
    query = "SELECT substation, count(*) FILTER (severity = 'high'), count(*) FROM audit.finding GROUP BY ALL"
    for station, high, number in sample_store.sql(query).fetchall():
        row = re.search(rf"^{station} .*?((?: (?:\d+|–)){{7}})$", text, re.MULTILINE)
        assert row is not None, station
        counts = row[1].split()
        assert (counts[0].replace("–", "0"), counts[3]) == (str(high), str(number))


def test_what_was_not_assessed_is_named_with_its_cell(text: str, sample_store: Store) -> None:
    held = squeezed(text)
    cells = sample_store.sql("SELECT DISTINCT source_file, sheet, cell FROM audit.missing_field WHERE cell IS NOT NULL")
    rows = cells.fetchall()
    assert rows
    for place in rows:
        assert squeezed(" · ".join(place)) in held
    for place in sample_store.sql("SELECT file, sheet, cell FROM raw.quarantine").fetchall():
        assert squeezed(" · ".join(place)) in held


def test_document_is_titled_tagged_and_in_a_language(whole: Path) -> None:
    """ISO 14289-1 (PDF/UA-1) asks for a title, tags and a language (clauses recalled)."""
    reader = pypdf.PdfReader(whole)
    root = reader.trailer["/Root"]
    assert reader.metadata.title.startswith("Inspection findings")
    assert root["/Lang"] == "en-US"
    assert bool(root["/MarkInfo"]["/Marked"])
    assert "pdfuaid" in root["/Metadata"].get_object().get_data().decode()


def test_same_store_gives_the_same_bytes_and_a_station_stands_alone(sample_store: Store, tmp_path: Path) -> None:
    for name in ("one.pdf", "two.pdf"):
        write_memoranda(sample_store, tmp_path / name, substations=["QM5"], paper="us-letter")
    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.pdf").read_bytes()
    told = text_of(tmp_path / "one.pdf")
    expected = {
        row[0] for row in sample_store.sql("SELECT finding FROM audit.finding WHERE substation = 'QM5'").fetchall()
    }
    assert set(re.findall(r"^Finding (\w+), open", told, re.MULTILINE)) == expected
    assert float(pypdf.PdfReader(tmp_path / "one.pdf").pages[0].mediabox.width) == pytest.approx(8.5 * 72)


def test_designations_of_standards_are_taken_whole() -> None:
    basis = "IEC 60071-1, tables 2 and 3; IEEE C57.12.00 and C37.06; machines: IEC 60034-15 (all recalled)"
    assert standards_in(basis) == {"IEC 60071-1", "IEEE C57.12.00", "IEEE C37.06", "IEC 60034-15"}
    assert standards_in("IEEE Std 80, 8.3 and 16.5.2 (clauses recalled)") == {"IEEE Std 80"}
    assert standards_in("common practice, no source") == set()
