"""Comparing two audits from the command line."""

import csv
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result
from sample_audit import FIRST_DAY

POLICY = "[neutral_device]\ncurrent_margin = 1.3\n"


@pytest.fixture
def audited(run: Callable[..., Result], whole_sample: Path, sample_file: Path) -> Path:
    """Two audits of the sample fleet in one store, the second with a margin."""
    (whole_sample / "policy.toml").write_text(POLICY)
    shutil.copy(sample_file, whole_sample / "fleet.duckdb")
    run("audit", "sample_inventory", "--store", "fleet.duckdb", "--policy", "policy.toml", "--as-of", f"{FIRST_DAY}")
    return whole_sample


def test_new_findings_are_listed_with_their_reason(run: Callable[..., Result], audited: Path) -> None:
    result = run("compare", "fleet.duckdb", "--out", "changes.csv", "--fail-on", "high")
    assert result.exit_code == 1
    lines = result.stdout.splitlines()
    assert lines[0].endswith(" 0 cleared")
    assert lines[2] == "new"
    assert "         why: policy changed: neutral_device.current_margin 1.0 -> 1.3" in lines
    with (audited / "changes.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert {row["change"] for row in rows} == {"new", "worsened", "persisting"}
    listed = run("compare", "fleet.duckdb", "--audits").stdout.splitlines()
    assert [line.split()[0] for line in listed] == ["1", "2"]
    back = run("compare", "fleet.duckdb", "--from", "2", "--to", "1")
    assert back.exit_code == 2
    assert "audit 2 does not come before audit 1" in back.stderr


def test_a_store_that_is_not_there_is_said(run: Callable[..., Result]) -> None:
    result = run("compare", "nowhere.duckdb")
    assert result.exit_code == 2
    assert "nowhere.duckdb: no such file; keep one with groundcheck audit ... --store nowhere.duckdb" in result.stderr


def test_numbers_of_audits_are_for_one_store(run: Callable[..., Result]) -> None:
    result = run("compare", "a.duckdb", "b.duckdb", "--from", "1")
    assert result.exit_code == 2
    assert "--from and --to are for the audits of one store" in result.stderr
