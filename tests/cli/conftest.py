"""The command, run in a folder of its own that holds an inventory."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sample_audit import SAMPLE

from groundcheck.cli import main

# A register with a finding of each severity, of one station.
SMALL = {
    "buses.csv": """Station,Bus,Nominal voltage (kV),Highest voltage (kV)
ELM,B1,33,31
""",
    "grids.csv": """Station,Ground grid,Measured resistance (ohm),Measured on
ELM,G1,0.5,1999-01-01
""",
    "circuits.csv": """Station,Secondary circuit,Kind,Ground points
ELM,S1,ct,none
""",
}


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The working folder of the command, with a register of one bus in the place of the sample inventory."""
    (tmp_path / "sample_inventory").mkdir()
    for name, text in SMALL.items():
        (tmp_path / "sample_inventory" / name).write_text(text)
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def whole_sample(folder: Path) -> Path:
    """The working folder with the sample inventory itself."""
    shutil.rmtree(folder / "sample_inventory")
    shutil.copytree(SAMPLE, folder / "sample_inventory")
    return folder


@pytest.fixture
def run(folder: Path) -> Callable[..., Result]:
    """Run the command with arguments."""

    def command(*arguments: str) -> Result:
        return CliRunner().invoke(main, arguments, catch_exceptions=False)

    return command
