"""The sample fleet's page, written once, and shown in the one browser."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from groundcheck.report.page import write_page
from groundcheck.store import Store


@pytest.fixture(scope="session")
def sample_page(sample_store: Store, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("page") / "report.html"
    write_page(sample_store, path)
    return path


@pytest.fixture
def show(browser: Any) -> Iterator[Callable[..., Any]]:
    """Open a page in a view; at the end no error may have been logged and no request have left the folder."""
    contexts, faults = [], []

    def opened(path: Path, address: str = "", *, lost: bool = False, **options: Any) -> Any:
        context = browser.new_context(viewport={"width": 1300, "height": 900}, **options)
        contexts.append(context)
        page = context.new_page()
        if not lost:  # of a folder that is missing the browser itself complains
            page.on("console", lambda said: faults.append(said.text) if said.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on("dialog", lambda dialog: (faults.append(f"dialog {dialog.message}"), dialog.dismiss()))
        page.on("request", lambda request: _note_request(request.url, path, faults))
        page.goto(f"{path.as_uri()}#{address}")
        page.wait_for_selector("html[data-ready]")
        return page

    yield opened
    for context in contexts:
        context.close()
    assert not faults


def _note_request(url: str, path: Path, faults: list[str]) -> None:
    if not url.startswith((path.parent.as_uri(), "data:", "blob:")):
        faults.append(f"request to {url}")
