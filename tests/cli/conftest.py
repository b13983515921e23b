"""The command, run in a folder of its own that holds the sample inventory."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from groundcheck.cli import main

SAMPLE = Path(__file__).parents[2] / "sample_inventory"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The working folder of the command."""
    shutil.copytree(SAMPLE, tmp_path / "sample_inventory")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def run(folder: Path) -> Callable[..., Result]:
    """Run the command with arguments."""

    def command(*arguments: str) -> Result:
        return CliRunner().invoke(main, arguments, catch_exceptions=False)

    return command
