"""Long work on a terminal and off it; Ctrl-C leaves nothing half-written."""

import os
import pty
import re
import select
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from groundcheck.cli.progress import Lines
from groundcheck.progress import Within

COMMAND = [sys.executable, "-c", "from groundcheck.cli import main; main()"]
ESCAPES = re.compile(r"\x1b\[[0-9;?]*[a-zA-Z]")


def on_a_terminal(folder: Path, *words: str, stop_at: str | None = None) -> tuple[int, str]:
    """Run the command on a terminal of its own; with `stop_at`, press Ctrl-C when it shows that."""
    pid, screen = pty.fork()
    if pid == 0:
        os.chdir(folder)
        os.environ.update(TERM="xterm", COLUMNS="120")
        os.execv(COMMAND[0], [*COMMAND, *words])
    shown, since = "", time.monotonic()
    while time.monotonic() - since < 120:
        if select.select([screen], [], [], 0.1)[0]:
            try:
                part = os.read(screen, 65536)
            except OSError:  # how Linux tells that nobody writes any more
                break
            if not part:
                break
            shown += part.decode()
        if stop_at is not None and stop_at in ESCAPES.sub("", shown):
            os.write(screen, b"\x03")
            stop_at = None
    else:
        os.kill(pid, signal.SIGKILL)
    _, status = os.waitpid(pid, 0)
    os.close(screen)
    return os.waitstatus_to_exitcode(status), ESCAPES.sub("", shown)


def test_terminal_shows_counts_time_and_what_is_being_written(folder: Path) -> None:
    status, shown = on_a_terminal(folder, "audit", "sample_inventory")
    assert status == 0, shown
    assert re.search(r"rules +\S+ \d+ of \d+ +\d:\d\d:\d\d", shown)
    assert re.search(r"reports +\S+ \d of 8 .*report\.html", shown)
    assert re.search(r"\d:\d\d:\d\d left", shown)


def test_ctrl_c_leaves_the_earlier_audit_and_no_temporary_file(run: Callable[..., Result], folder: Path) -> None:
    assert run("audit", "sample_inventory", "--store", "kept.duckdb", "--out", "out").exit_code == 0
    (folder / "sample_inventory" / "more.csv").write_text("Station,Bus,Nominal voltage (kV)\nOAK,B1,11\n")
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    for stop_at in ("rules ", "exceptions.xlsx"):
        words = ("audit", "sample_inventory", "--store", "kept.duckdb", "--out", "out")
        status, shown = on_a_terminal(folder, *words, stop_at=stop_at)
        assert status == 130, shown
        assert shown.splitlines()[-1] == "groundcheck: stopped; what was there before is left as it was"
        assert "Traceback" not in shown
        now = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
        if stop_at == "exceptions.xlsx":  # the audit was done by then, its reports not yet
            del now[folder / "kept.duckdb"], before[folder / "kept.duckdb"]
        assert now == before


def test_without_a_terminal_there_is_no_escape_and_no_bar(folder: Path) -> None:
    ran = subprocess.run([*COMMAND, "columns", "sample_inventory"], cwd=folder, capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
    assert re.fullmatch(r"reading: 3 in \d+\.\d s\n", ran.stderr)


def test_a_stage_that_counts_nothing_has_its_seconds_only(capsys: pytest.CaptureFixture[str]) -> None:
    lines = Lines()
    lines.stage("study", None)
    lines.stage("rules", 2)
    lines.advance(2)
    lines.close()
    assert re.fullmatch(r"study: \d+\.\d s\nrules: 2 in \d+\.\d s\n", capsys.readouterr().err)


def test_steps_within_a_step_are_its_detail() -> None:
    told = []

    class Outer:
        def stage(self, name: str, total: int | None) -> None:
            raise AssertionError(name)

        def advance(self, n: int = 1) -> None:
            raise AssertionError(n)

        def detail(self, text: str) -> None:
            told.append(text)

    within = Within(Outer(), "report.html")
    within.stage("stations", 15_000)
    within.advance(4_200)
    assert told == ["report.html: 4,200 of 15,000"]
