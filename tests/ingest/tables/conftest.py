"""Questions to a store about what one sheet gave."""

from collections.abc import Callable

import pytest

from groundcheck.store import Store


@pytest.fixture
def account() -> Callable[[Store, str], tuple[int, ...]]:
    """Rows used, in quarantine, headings, notes and blank rows of a sheet."""

    def count(store: Store, sheet: str) -> tuple[int, ...]:
        columns = "rows_used, rows_quarantined, heading_rows, note_rows, blank_rows"
        return store.sql(f"SELECT {columns} FROM raw.account WHERE sheet = $s", {"s": sheet}).fetchall()[0]

    return count


@pytest.fixture
def remark() -> Callable[[Store, str], str | None]:
    """What the account says of a sheet in words."""

    def say(store: Store, sheet: str) -> str | None:
        return store.sql("SELECT remark FROM raw.account WHERE sheet = $s", {"s": sheet}).fetchall()[0][0]

    return say


@pytest.fixture
def questions() -> Callable[..., list[tuple]]:
    """The questions about one subject: cell, text found, number of cells."""

    def ask(store: Store, subject: str) -> list[tuple]:
        return store.sql(
            "SELECT cell, found, cells FROM raw.question WHERE subject = $s ORDER BY question", {"s": subject}
        ).fetchall()

    return ask
