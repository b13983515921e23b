"""What many tests share: the sample fleet, audited once, and one browser."""

import os
import shutil
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from sample_audit import FIRST_DAY, SAMPLE

from groundcheck.pipeline import audit
from groundcheck.store import Store

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")


@pytest.fixture(scope="session")
def sample_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """
    A kept store of the sample fleet, of this process alone: to be copied, or read and left as it is.

    Processes that test side by side audit it once: the first makes the file, the others wait for it.
    """
    own = tmp_path_factory.mktemp("sample")
    shared = own.parent.parent if "PYTEST_XDIST_WORKER" in os.environ else own
    kept, lock = shared / "sample_fleet.duckdb", shared / "sample_fleet.lock"
    try:
        lock.mkdir()
    except FileExistsError:
        for _ in range(1200):
            if kept.exists():
                break
            time.sleep(0.1)
    else:
        audit([SAMPLE], store=shared / "sample_fleet.part", as_of=FIRST_DAY).store.close()
        (shared / "sample_fleet.part").replace(kept)
    return Path(shutil.copy(kept, own / "fleet.duckdb"))


@pytest.fixture(scope="session")
def sample_store(sample_file: Path) -> Iterator[Store]:
    """The audited sample fleet; used read-only."""
    with Store(Path(shutil.copy(sample_file, sample_file.with_name("read.duckdb")))) as store:
        yield store


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """Chromium, driven by playwright, of which a process can have one at a time."""
    sync_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    if CHROMIUM is None:
        pytest.skip("no Chromium on this machine (Debian: chromium)")
    with sync_api.sync_playwright() as playwright:
        started = playwright.chromium.launch(
            executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
        )
        yield started
        started.close()
