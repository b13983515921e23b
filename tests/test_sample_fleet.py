"""The audit of the sample inventory, held to the answer key in its README."""

import csv
import re
import subprocess
import sys
from collections import Counter
from functools import cache
from pathlib import Path
from string import ascii_uppercase

import openpyxl
import pytest
from sample_audit import FIRST_DAY, LAST_DAY, SAMPLE

from groundcheck.pipeline import Audit, audit
from groundcheck.schema import INVENTORY_TABLES

ROOT = Path(__file__).resolve().parents[1]
BUILD = ROOT / "tests" / "sample_fleet" / "build.py"


# Rules that nothing in the sample answers, and why not.
NOT_ANSWERED = {"return-path/declared-behind-infeed": "every zone has a ground source of its own on record"}


@pytest.fixture(scope="module")
def sample(sample_store):
    return Audit(sample_store)


@pytest.fixture(scope="module")
def sample_on_the_last_day():
    return audit([SAMPLE], as_of=LAST_DAY)


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


def test_findings_are_the_same_on_the_last_day_of_the_key(sample, sample_on_the_last_day):
    first, last = FIRST_DAY, LAST_DAY
    assert (last - first).days > 4 * 365
    assert_same(sample_on_the_last_day.findings()["finding"], sample.findings()["finding"])


def test_records_become_old_after_the_last_day(sample_on_the_last_day):
    """The key holds no longer than the README says."""
    query = "SELECT min(recorded_on) FROM inventory.substation WHERE substation <> 'OSM'"
    ((oldest,),) = sample_on_the_last_day.sql(query).fetchall()
    assert (LAST_DAY - oldest).days == int(5 * 365.25)


def test_key_is_sorted_and_has_every_subject(sample):
    key = answer_table("Findings")
    assert key == sorted(key)
    ran = {rule for (rule,) in sample.sql("SELECT rule FROM audit.rule WHERE problem IS NULL").fetchall()}
    assert {rule.split("/")[0] for rule in ran} == {rule.split("/")[0] for rule, *_ in key}
    assert {rule for rule, *_ in key} <= ran


def test_every_rule_is_answered_somewhere(sample):
    query = """
        SELECT rule FROM audit.rule
        WHERE rule NOT IN (SELECT rule FROM audit.result WHERE outcome IN ('satisfied', 'exception'))
    """
    assert sorted(rule for (rule,) in sample.sql(query).fetchall()) == sorted(NOT_ANSWERED)


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
    """A rule may ask the same of one asset several times, such as for each source that may be out."""
    query = """
        SELECT DISTINCT rule, substation, asset_kind, asset, missing
        FROM audit.result WHERE outcome = 'not_assessable'
    """
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


def test_every_finding_names_a_cell_in_the_record_of_its_asset(sample):
    """A row, or a column of the sheet that is turned; a zone is named by one of its buses."""
    astray = []
    for finding in sample.findings().itertuples():
        column, row = re.fullmatch(r"([A-Z]+)([0-9]+)", finding.cell).groups()
        turned = finding.sheet == "Mats"
        record = [
            str(value)
            for (sheet, cell), value in cells_of(finding.source_file).items()
            if sheet in (None, finding.sheet)
            and (cell.rstrip("0123456789") == column if turned else cell.lstrip(ascii_uppercase) == row)
        ]
        tag = finding.asset.split(":")[-1]
        if not {tag, tag.split(" ")[0]} & set(record):
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
