"""Every --help ends with an example, and every example runs."""

import shlex
import shutil
from collections.abc import Callable
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result

from groundcheck.cli import main
from groundcheck.store import Store

COMMANDS = {"": main, **main.commands}


def example_of(command: click.Command) -> list[str]:
    """The words of the example at the end of a command's help."""
    marker, line = (command.help or "").strip().splitlines()[-2:]
    assert marker.strip() == "Example:"
    words = shlex.split(line)
    assert words[0] == "groundcheck"
    return words[1:]


@pytest.mark.parametrize("name", COMMANDS)
def test_help_ends_with_an_example(name: str) -> None:
    result = CliRunner().invoke(main, [*([name] if name else []), "--help"])
    assert result.exit_code == 0
    assert f"groundcheck {' '.join(example_of(COMMANDS[name]))}" in " ".join(result.output.split())


@pytest.mark.parametrize("name", COMMANDS)
def test_example_runs(run: Callable[..., Result], folder: Path, sample_file: Path, name: str) -> None:
    words = example_of(COMMANDS[name])
    for kept in {word for word in words if word.endswith(".duckdb")} - {"fleet.duckdb" if name == "compare" else ""}:
        shutil.copy(sample_file, folder / kept)
    if name == "finding":
        with Store(folder / "audit.duckdb") as store:
            words[words.index("ID")] = store.sql("SELECT min(finding) FROM audit.finding").fetchall()[0][0]
    if name == "compare":
        for _ in range(2):
            run("audit", "sample_inventory", "--store", "fleet.duckdb")
    if name == "waivers":
        run("audit", "sample_inventory", "--out", "audit_out")
    result = run(*words)
    assert result.exit_code == (1 if "--fail-on" in words else 0), result.output
    assert result.stdout
