"""Workbooks, csv files and stores as the tests of ingest have them; and the command line."""

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from ingest.conftest import book as book
from ingest.conftest import csv_file as csv_file
from ingest.conftest import read as read

from groundcheck.cli import main

pytest.register_assert_rewrite("bad_inputs.cases")


@pytest.fixture
def command(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Result]:
    """Run the command in a folder of its own; what it does not expect comes out as an exception."""
    monkeypatch.chdir(tmp_path)

    def run(*arguments: str | Path) -> Result:
        return CliRunner().invoke(main, [str(argument) for argument in arguments], catch_exceptions=False)

    return run


def assert_stopped(result: Result, *words: str) -> None:
    """Status 2, and one line that holds the words."""
    assert result.exit_code == 2
    assert result.stdout == ""
    [line] = [line for line in result.stderr.splitlines() if line.startswith("groundcheck: ")]
    assert result.stderr.rstrip().endswith(line)
    for word in words:
        assert word in line


@pytest.fixture
def stopped() -> Callable[..., None]:
    """Prove that a command stopped with one line."""
    return assert_stopped
