"""The whole job on a station of a few rows: what callers may rely on."""

from pathlib import Path

import openpyxl
import pandas as pd
import pytest

import groundcheck
from groundcheck.audit import Rule
from groundcheck.errors import NothingRead, PolicyError

SHEETS = {
    "Stations": [["Station", "Frequency (Hz)"], ["ELM", 50]],
    "Buses": [["Station", "Bus", "Voltage (kV)", "Clearing time (s)"], ["ELM", "B33", 33, 0.5], ["ELM", "B11", 11, 1]],
    "Supplies": [["Station", "Infeed", "Bus", "Fault level (MVA)", "X/R", "Source earthed"],
                 ["ELM", "GRID", "B33", 500, 10, "no"]],
    "Transformers": [["Station", "Transformer", "HV bus", "LV bus", "MVA", "HV (kV)", "LV (kV)", "Vector group", "Z %",
                      "X/R", "NER ohms", "NER amps", "NER time"],
                     ["ELM", "T1", "B33", "B11", 10, 33, 11, "Dyn11", 8, 15, 15.9, 300, "10 s"]],
}  # fmt: skip


@pytest.fixture
def workbook(tmp_path: Path) -> Path:
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in SHEETS.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    path = tmp_path / "north.xlsx"
    book.save(path)
    return path


def test_function_and_package_of_one_name_both_work():
    assert callable(groundcheck.audit)
    assert Rule.__module__ == "groundcheck.audit.rule"


def test_computed_number_is_followed_to_the_cells_it_comes_from(workbook):
    made = groundcheck.audit(workbook)
    findings = made.findings().set_index("rule")
    found = findings.loc["neutral-devices/rated-current"]
    assert (found.sheet, found.cell, found.actual) == ("Transformers", "L2", "300")
    behind = made.sql(
        f"SELECT input, sheet, cell, found FROM audit.evidence WHERE finding = '{found.finding}' AND role = 'basis'"
    ).fetchall()
    assert {
        ("neutral_device.resistance", "Transformers", "K2", "15.9"),
        ("transformer.impedance", "Transformers", "I2", "8"),
        ("transformer.vector_group", "Transformers", "H2", "Dyn11"),
        ("infeed.fault_level_3ph", "Supplies", "D2", "500"),
        ("bus.nominal_voltage", "Buses", "C3", "11"),
    } <= set(behind)


def test_same_sources_give_the_same_findings_from_a_kept_store(workbook, tmp_path):
    first = groundcheck.audit([workbook], store=tmp_path / "fleet.duckdb")
    before, rows = first.findings(), first.sql("SELECT count(*) FROM raw.row").fetchall()
    first.store.close()
    again = groundcheck.audit([workbook], store=tmp_path / "fleet.duckdb")
    assert again.findings().equals(before)
    assert again.sql("SELECT count(*) FROM raw.row").fetchall() == rows


def test_files_read_side_by_side_give_the_same_account(workbook, tmp_path):
    other = tmp_path / "south.xlsx"
    book = openpyxl.load_workbook(workbook)
    for sheet in book:
        for (cell,) in sheet.iter_rows(min_row=2, max_col=1):
            cell.value = "OAK"
    book.save(other)
    one, two = (groundcheck.audit([workbook, other], workers=n) for n in (1, 2))
    query = "SELECT * FROM raw.account ORDER BY file, sheet"
    assert two.sql(query).fetchall() == one.sql(query).fetchall()
    assert two.findings().equals(one.findings())


def test_reports_are_written_where_asked(workbook, tmp_path):
    written = groundcheck.audit(workbook).write(tmp_path / "reports")
    assert sorted(path.name for path in written) == [
        *("data_requests.xlsx", "exceptions.xlsx", "findings.csv", "ingest_log.txt", "inspection_findings.pdf"),
        *("outcomes.csv", "report.html", "rulebook.html"),
    ]


def test_marked_copy_of_a_source_says_what_is_wrong_with_its_cells(workbook, tmp_path):
    made = groundcheck.audit(workbook)
    before = workbook.read_bytes()
    written = made.write(tmp_path / "reports", annotate=True)
    assert tmp_path / "reports" / "annotated" in written
    copy = openpyxl.load_workbook(tmp_path / "reports" / "annotated" / workbook.name)
    assert "Rule neutral-devices/rated-current." in copy["Transformers"]["L2"].comment.text
    assert workbook.read_bytes() == before


def test_ingest_log_tells_the_sheets_of_the_file(workbook, tmp_path):
    groundcheck.audit(workbook).write(tmp_path / "reports")
    log = (tmp_path / "reports" / "ingest_log.txt").read_text(encoding="utf-8")
    assert f"{workbook.name}, sheet 'Transformers'" in log
    assert "2 rows read: 1 used, 1 heading." in log


def test_owner_policy_changes_the_answer(workbook, tmp_path):
    policy = tmp_path / "policy.toml"
    policy.write_text("[neutral_device]\ncurrent_margin = 0.5\n")
    rules = groundcheck.audit(workbook, policy=policy).findings().rule
    assert "neutral-devices/rated-current" not in set(rules)


def test_unknown_policy_entry_names_the_nearest(workbook, tmp_path):
    policy = tmp_path / "policy.toml"
    policy.write_text("[neutral_device]\ncurrent_margn = 0.5\n")
    with pytest.raises(PolicyError) as refusal:
        groundcheck.audit(workbook, policy=policy)
    expected = f"{policy}: no entry `neutral_device.current_margn`; nearest is `neutral_device.current_margin`"
    assert str(refusal.value) == expected


def test_nothing_readable_stops_the_audit(tmp_path):
    (tmp_path / "broken.xlsx").write_bytes(b"PK\x03\x04 cut off")
    with pytest.raises(NothingRead):
        groundcheck.audit(tmp_path)


def test_frames_are_a_source():
    frame = pd.DataFrame([{"substation": "ELM", "bus": "B1", "nominal_voltage": 33.0, "highest_voltage": 3.6}])
    made = groundcheck.audit({"bus": frame})
    assert list(made.findings().rule) == ["record/highest-below-nominal"]
