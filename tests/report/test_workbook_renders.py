"""A spreadsheet program other than the one that the writer imitates opens the workbook and prints it."""

import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from groundcheck.report import write_reports
from groundcheck.store import Store

SOFFICE = shutil.which("soffice")


@pytest.mark.skipif(SOFFICE is None, reason="LibreOffice is not installed")
@pytest.mark.parametrize("name", ["exceptions", "data_requests"])
def test_workbook_prints(
    name: str,
    filled_store: Store,
    tmp_path: Path,
    fill: Callable[..., None],
    finding: dict[str, Any],
    question: dict[str, Any],
    hostile_texts: dict[str, str],
) -> None:
    for kind, text in hostile_texts.items():
        fill(filled_store, "audit.finding", finding | {"finding": kind, "asset": text, "message": text})
        fill(filled_store, "raw.question", question | {"found": text, "answer": text})
    write_reports(filled_store, tmp_path)
    profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
    subprocess.run(
        [SOFFICE, profile, "--headless", "--convert-to", "pdf", "--outdir", tmp_path, tmp_path / f"{name}.xlsx"],
        check=True,
        capture_output=True,
        timeout=120,
    )
    assert (tmp_path / f"{name}.pdf").read_bytes().startswith(b"%PDF")
