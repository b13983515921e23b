"""Waivers from the command line: accepted in the workbook, collected into a file, in force until their last day."""

import tomllib
from collections.abc import Callable
from datetime import date
from pathlib import Path

import openpyxl
from click.testing import Result

Run = Callable[..., Result]
REGISTER = """Station,Bus,Nominal voltage (kV),Highest voltage (kV)
ELM,B1,33,31
"""


def accept(path: Path, until: date) -> None:
    """Accept the only finding of the workbook."""
    book = openpyxl.load_workbook(path)
    sheet = book["Exceptions"]
    heads = {cell.value: cell.column for cell in sheet[1]}
    told = {"disposition": "accepted", "by": "A. Owner", "until": until, "remark": "register is being renewed"}
    for head, value in told.items():
        sheet.cell(2, heads[head]).value = value
    book.save(path)


def audit(run: Run, *more: str, as_of: str = "2099-01-01") -> Result:
    return run("audit", "buses.csv", "--out", "out", "--fail-on", "low", "--as-of", as_of, *more)


def test_waived_finding_does_not_fail_until_it_comes_back(run: Run, folder: Path) -> None:
    (folder / "buses.csv").write_text(REGISTER)
    assert audit(run).exit_code == 1
    accept(folder / "out" / "exceptions.xlsx", date(2099, 3, 31))

    refused = audit(run)
    assert refused.exit_code == 2
    assert "out: exceptions.xlsx there holds 1 disposition that this audit was not told" in refused.stderr

    taken = run("waivers", "out/exceptions.xlsx", "--out", "waivers.toml")
    assert taken.exit_code == 0, taken.output
    new, count, _ = taken.stdout.splitlines()
    assert new.startswith("new:       F")
    assert new.endswith(
        " (ELM, B1, record/highest-below-nominal) by A. Owner until 2099-03-31, from out/exceptions.xlsx"
    )
    assert count == "1 in all, 0 as they were"
    (entry,) = tomllib.loads((folder / "waivers.toml").read_text(encoding="utf-8"))["waiver"]
    assert (entry["actual"], entry["required"], entry["unit"]) == (31.0, 33.0, "kV")

    for waivers in ("waivers.toml", "out/exceptions.xlsx"):
        held = audit(run, "--waivers", waivers, as_of="2099-03-31")
        assert held.exit_code == 0, held.output
        assert "0 findings open, 1 waived." in held.stdout
    back = audit(run, "--waivers", "waivers.toml", as_of="2099-04-01")
    assert back.exit_code == 1
    assert "waiver    1 waiver expired, open again: sheet Waivers" in back.stdout.splitlines()

    (folder / "buses.csv").write_text(REGISTER.replace("31", "30"))
    worse = audit(run, "--waivers", "waivers.toml", as_of="2099-03-31")
    assert worse.exit_code == 1
    findings = (folder / "out" / "findings.csv").read_text(encoding="utf-8")
    assert "worse than when A. Owner waived it: actual 31 kV then, 30 kV now" in findings


def test_waiver_file_is_brought_up_to_date_and_printed(run: Run, folder: Path) -> None:
    entry = '[[waiver]]\nfinding = "F{}"\nby = "A"\nreason = "why"\nuntil = 2099-01-01\n'
    (folder / "one.toml").write_text(entry.format(1))
    (folder / "two.toml").write_text(entry.format(2))
    assert run("waivers", "one.toml", "--out", "all.toml").exit_code == 0
    again = run("waivers", "two.toml", "--out", "all.toml")
    assert again.stdout.splitlines()[:2] == [
        "new:       F2 by A until 2099-01-01, from two.toml",
        "2 in all, 1 as they were",
    ]
    assert run("waivers", "all.toml").stdout == (folder / "all.toml").read_text(encoding="utf-8")


def test_file_that_is_no_waiver_file_is_not_overwritten(run: Run, folder: Path) -> None:
    (folder / "one.toml").write_text('[[waiver]]\nfinding = "F1"\nby = "A"\nreason = "why"\nuntil = 2099-01-01\n')
    (folder / "policy.toml").write_text("[study]\n")
    result = run("waivers", "one.toml", "--out", "policy.toml")
    assert result.exit_code == 2
    assert result.stderr == "groundcheck: policy.toml: no entry `study`; expected [[waiver]]\n"
    assert (folder / "policy.toml").read_text() == "[study]\n"


def test_waivers_are_read_before_the_long_work(run: Run, folder: Path) -> None:
    result = run("audit", "sample_inventory", "--waivers", "missing.toml")
    assert result.exit_code == 2
    assert result.stderr == "groundcheck: missing.toml: cannot be read (no such file or directory)\n"
