"""Exit status: 0 no finding at or above the severity asked for, 1 there are, 2 the request could not be met."""

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

SOUND = "substation,name,district,frequency\nASH,Ash Lane,North,50\n"


def test_findings_alone_are_no_failure(run: Callable[..., Result]) -> None:
    assert run("audit", "sample_inventory").exit_code == 0


@pytest.mark.parametrize("severity", ["high", "medium", "low"])
def test_findings_as_severe_as_asked_give_one(run: Callable[..., Result], severity: str) -> None:
    assert run("audit", "sample_inventory", "--fail-on", severity).exit_code == 1


def test_no_finding_gives_zero(run: Callable[..., Result], folder: Path) -> None:
    (folder / "sound.csv").write_text(SOUND)
    result = run("audit", "sound.csv", "--fail-on", "low")
    assert result.exit_code == 0, result.output
    assert "No findings" in result.stdout


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["audit", "missing.xlsx"], "missing.xlsx"),
        (
            ["audit", "sample_inventory", "--policy", "missing.toml"],
            "missing.toml: cannot be read (no such file or directory)",
        ),
        (["audit", "sample_inventory", "--columns", "missing.toml"], "missing.toml"),
        (["audit", "sample_inventory", "--rules", "missing"], "missing"),
        (["audit", "sample_inventory", "--out", "taken"], "output folder taken: taken cannot be written"),
        (["audit", "sample_inventory", "--store", "taken"], "taken"),
        (["columns", "missing.xlsx"], "missing.xlsx"),
        (["columns", "sample_inventory", "--out", "taken/map.toml"], "taken/map.toml: cannot be written"),
        (["template", "taken"], "taken: is already there and may hold data; name another file"),
        (["rules", "no/such-rule"], "no rule `no/such-rule`; nearest is"),
        (["policy", "--policy", "missing.toml"], "missing.toml: cannot be read (no such file or directory)"),
        (["finding", "x", "--store", "missing.duckdb"], "missing.duckdb: no such file"),
        (["finding", "x", "--store", "taken"], "taken: cannot be opened as a store"),
    ],
)
def test_request_that_cannot_be_met_is_one_line_and_two(
    run: Callable[..., Result], folder: Path, arguments: list[str], words: str
) -> None:
    (folder / "taken").write_text("a file of the user's")
    result = run(*arguments)
    assert result.exit_code == 2
    *_, line = result.stderr.splitlines()
    assert line.startswith("groundcheck: ")
    assert words in line
    assert "Traceback" not in result.output
    assert (folder / "taken").read_text() == "a file of the user's"


def test_output_folder_is_checked_before_the_long_work(run: Callable[..., Result], folder: Path) -> None:
    (folder / "taken").write_text("")
    assert len(run("audit", "sample_inventory", "--out", "taken").stderr.splitlines()) == 1
