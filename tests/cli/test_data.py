"""groundcheck data: the formats that were asked for, and refusals in one line."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path

from click.testing import Result


def test_only_the_formats_asked_for_are_written(run: Callable[..., Result], folder: Path, sample_file: Path) -> None:
    shutil.copy(sample_file, folder / "fleet.duckdb")
    result = run("data", "fleet.duckdb", "--out", "given", "--format", "csv", "--format", "jsonl")
    assert result.exit_code == 0
    kinds = {path.suffix for path in (folder / "given").rglob("*") if path.is_file()}
    assert kinds == {".csv", ".jsonl", ".json", ".md"}
    tables = json.loads((folder / "given" / "manifest.json").read_text())["tables"]
    assert result.stdout == f"given: {3 * len(tables) + 2} files, listed in manifest.json\n"


def test_store_that_is_not_there_is_told(run: Callable[..., Result]) -> None:
    result = run("data", "none.duckdb", "--out", "given")
    assert result.exit_code == 2
    assert result.stderr.startswith("groundcheck: none.duckdb: no such file")
