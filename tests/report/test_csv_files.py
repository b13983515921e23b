"""findings.csv and outcomes.csv: the columns that callers rely on, every row, nothing live."""

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

from groundcheck.report import write_reports
from groundcheck.store import Store

FINDING_HEADS = (
    "finding,rule,severity,substation,asset_kind,asset,message,actual,required,unit,provisional,robustness,"
    "source_file,sheet,cell,status,remedy,waiver"
)
OUTCOME_HEADS = "rule,substation,satisfied,exceptions,not_assessable,not_applicable"


def read(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_columns_are_those_that_callers_rely_on(filled_store: Store, tmp_path: Path) -> None:
    write_reports(filled_store, tmp_path)
    assert (tmp_path / "findings.csv").read_text(encoding="utf-8").splitlines()[0] == FINDING_HEADS
    assert (tmp_path / "outcomes.csv").read_text(encoding="utf-8").splitlines()[0] == OUTCOME_HEADS


def test_findings_come_by_severity_district_and_station(
    filled_store: Store, tmp_path: Path, finding: dict[str, Any]
) -> None:
    write_reports(filled_store, tmp_path)
    rows = read(tmp_path / "findings.csv")
    assert [row["finding"] for row in rows] == ["f-1", "f-2", "f-3"]
    expected = {name: finding.get(name) for name in FINDING_HEADS.split(",")} | {"provisional": "false", "waiver": ""}
    assert rows[0] == expected


def test_outcomes_are_the_four_counts(filled_store: Store, tmp_path: Path, finding: dict[str, Any]) -> None:
    write_reports(filled_store, tmp_path)
    assert read(tmp_path / "outcomes.csv")[1] == {
        "rule": finding["rule"],
        "substation": "ELM",
        "satisfied": "0",
        "exceptions": "1",
        "not_assessable": "1",
        "not_applicable": "0",
    }


def test_hostile_tag_is_text(
    empty_store: Store, tmp_path: Path, fill: Callable[..., None], finding: dict[str, Any], hostile_text: str
) -> None:
    fill(empty_store, "audit.finding", finding | {"asset": hostile_text})
    write_reports(empty_store, tmp_path)
    asset = read(tmp_path / "findings.csv")[0]["asset"]
    assert not asset.startswith(("=", "+", "-", "@", "\t"))
    assert not any(ord(letter) < 32 and letter not in "\t\n" for letter in asset)


def test_no_findings_leaves_the_heads(empty_store: Store, tmp_path: Path) -> None:
    write_reports(empty_store, tmp_path)
    assert (tmp_path / "findings.csv").read_text(encoding="utf-8") == FINDING_HEADS + "\n"
