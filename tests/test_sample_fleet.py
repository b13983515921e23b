"""The audit of the sample inventory, held to the answer key in its README."""

import csv
import subprocess
import sys
from collections import Counter
from functools import cache
from pathlib import Path

import openpyxl
import pytest

from groundcheck.pipeline import audit
from groundcheck.schema import INVENTORY_TABLES

ROOT = Path(__file__).resolve().parents[1]
SAMPLE = ROOT / "sample_inventory"
BUILD = ROOT / "tests" / "sample_fleet" / "build.py"


@pytest.fixture(scope="module")
def sample():
    return audit([SAMPLE])


@cache
def answer_table(section):
    """The rows of the one table under a heading of the README."""
    text = (SAMPLE / "README.md").read_text(encoding="utf-8")
    body = text.split(f"\n## {section}\n")[1].split("\n## ")[0]
    rows = [line.strip("|\n").split("|") for line in body.splitlines() if line.startswith("|")]
    return [tuple(cell.strip() for cell in row) for row in rows[2:]]


def assert_same(found, expected):
    """Fail with what is found and not in the key, and what is in the key and not found, a line each."""
    found, expected = Counter(found), Counter(expected)
    lines = [
        *(f"not in the key: {' | '.join(map(str, row))}" for row in sorted((found - expected).elements())),
        *(f"not found: {' | '.join(map(str, row))}" for row in sorted((expected - found).elements())),
    ]
    assert not lines, "\n".join(lines)


def rows_of(sample, query):
    return [tuple(str(value) for value in row) for row in sample.sql(query).fetchall()]


def test_findings_are_those_of_the_key(sample):
    found = sample.findings()[["rule", "substation", "asset_kind", "asset"]].itertuples(index=False, name=None)
    assert_same(found, [row[:4] for row in answer_table("Findings")])


def test_key_is_sorted_and_has_every_rule(sample):
    key = answer_table("Findings")
    assert key == sorted(key)
    ran = {rule for (rule,) in sample.sql("SELECT rule FROM audit.rule WHERE problem IS NULL").fetchall()}
    assert ran == {rule for rule, *_ in key}


def test_ten_stations_have_no_finding(sample):
    clean = {s for (s,) in sample.sql("SELECT substation FROM inventory.substation").fetchall()}
    clean -= set(sample.findings()["substation"])
    listed = (SAMPLE / "README.md").read_text(encoding="utf-8").split("Stations without a finding: ")[1].split(".")[0]
    assert sorted(clean) == listed.split(", ")
    assert len(clean) >= 10


def test_quarantine_is_that_of_the_key(sample):
    """A row in quarantine feeds no asset, so its station and tag are looked for among its cells."""
    key = Counter((file, table, asset, reason) for file, _, table, asset, reason, _ in answer_table("Quarantine"))
    query = """
        SELECT q.file, q.target_table, q.reason, r.cells
        FROM raw.quarantine q JOIN raw.row r USING (raw_row)
    """
    found = Counter()
    for file, table, reason, cells in sample.sql(query).fetchall():
        tags = [asset for f, t, asset, why in key if (f, t, why) == (file, table, reason) and asset in cells]
        found[file, table, tags[0] if tags else f"row {cells}", reason] += 1
    assert_same(found.elements(), key.elements())


def test_unread_cells_are_those_of_the_key(sample):
    found = rows_of(sample, "SELECT file, target_table, field, found FROM raw.unread_cell")
    key = [(file, table, field, text) for file, _, table, _, field, text in answer_table("Cells that can't be read")]
    assert_same(found, key)


def test_questions_are_those_of_the_key(sample):
    query = "SELECT rule, substation, asset_kind, asset, missing FROM audit.result WHERE outcome = 'not_assessable'"
    assert_same(rows_of(sample, query), answer_table("Expected questions"))


def test_what_is_to_be_settled_is_that_of_the_key(sample):
    found = rows_of(sample, "SELECT file, cell, subject FROM raw.question")
    assert_same(found, [(file, cell, subject) for file, cell, subject, _ in answer_table("To be settled")])


def test_every_row_is_accounted_for(sample):
    query = """
        SELECT file, sheet FROM raw.account
        WHERE rows_read <> rows_used + rows_quarantined + heading_rows + note_rows + blank_rows OR rows_used = 0
    """
    assert rows_of(sample, query) == []


@cache
def cells_of(file):
    """Sheet, cell name -> value as a person sees it in the file; a csv file is one sheet."""
    path = SAMPLE / file
    if path.suffix == ".csv":
        with path.open(encoding="cp1252", newline="") as stream:
            rows = list(csv.reader(stream, delimiter=";"))
        return {
            (None, f"{openpyxl.utils.get_column_letter(c)}{r}"): text
            for r, row in enumerate(rows, start=1)
            for c, text in enumerate(row, start=1)
        }
    book = openpyxl.load_workbook(path)
    return {
        (sheet.title, cell.coordinate): cell.value
        for sheet in book.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None
    }


def seen_in(file, sheet, cell):
    cells = cells_of(file)
    return cells.get((sheet, cell), cells.get((None, cell)))


def test_every_finding_names_a_cell_in_the_row_of_its_asset(sample):
    astray = []
    for finding in sample.findings().itertuples():
        row = "".join(c for c in str(finding.cell) if c.isdigit())
        same_row = [
            str(value)
            for (sheet, cell), value in cells_of(finding.source_file).items()
            if sheet in (None, finding.sheet) and cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ") == row
        ]
        named = finding.asset if finding.asset in same_row else finding.asset.split(" ")[0]
        if named not in same_row:
            astray.append((finding.rule, finding.substation, finding.asset, finding.source_file, finding.cell))
    assert not astray, "\n".join(map(str, astray))


def test_evidence_is_what_the_cell_says(sample):
    evidence = sample.sql(
        "SELECT source_file, sheet, cell, found FROM audit.evidence WHERE cell IS NOT NULL"
    ).fetchall()
    assert evidence
    wrong = [
        (file, sheet, cell, found, seen_in(file, sheet, cell))
        for file, sheet, cell, found in evidence
        if found is not None and str(seen_in(file, sheet, cell)) != found
    ]
    assert not wrong, "\n".join(map(str, wrong))


def test_inventory_holds_all_kinds_of_plant(sample):
    empty = [t for t in INVENTORY_TABLES if sample.sql(f"SELECT count(*) FROM inventory.{t}").fetchall() == [(0,)]]
    assert empty == []


def test_files_are_what_the_generator_writes(tmp_path):
    subprocess.run([sys.executable, str(BUILD), str(tmp_path)], check=True)
    names = sorted(path.name for path in SAMPLE.iterdir())
    assert names == sorted(path.name for path in tmp_path.iterdir())
    for name in names:
        if name.endswith(".xlsx"):
            assert sheets_of(tmp_path / name) == sheets_of(SAMPLE / name), name
        else:
            assert (tmp_path / name).read_bytes() == (SAMPLE / name).read_bytes(), name


def sheets_of(path):
    book = openpyxl.load_workbook(path)
    return {
        sheet.title: (sorted(map(str, sheet.merged_cells.ranges)), list(sheet.iter_rows(values_only=True)))
        for sheet in book.worksheets
    }
