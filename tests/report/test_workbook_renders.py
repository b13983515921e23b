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
def test_workbook_prints(
    filled_store: Store,
    tmp_path: Path,
    fill: Callable[..., None],
    finding: dict[str, Any],
    hostile_texts: dict[str, str],
) -> None:
    for name, text in hostile_texts.items():
        fill(filled_store, "audit.finding", finding | {"finding": name, "asset": text, "message": text})
    write_reports(filled_store, tmp_path)
    profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
    subprocess.run(
        [SOFFICE, profile, "--headless", "--convert-to", "pdf", "--outdir", tmp_path, tmp_path / "exceptions.xlsx"],
        check=True,
        capture_output=True,
        timeout=120,
    )
    assert (tmp_path / "exceptions.pdf").read_bytes().startswith(b"%PDF")
