"""Audit, send data requests, read the answers back: what was asked for is no longer missing, and not asked again."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from openpyxl import load_workbook
from sample_audit import SAMPLE

from groundcheck.errors import OutputFolderError
from groundcheck.pipeline import Audit, audit
from groundcheck.report.data_requests import write_data_requests
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.store import Store

MOST_ROUNDS = 4  # an answer such as 'resistor' raises the questions for its ratings, and these the last of them
Cells = set[tuple[str, str, str, str]]


def asked(folder: Path) -> Cells:
    """What a data request asks for: station, kind, asset and field."""
    found = set()
    for sheet in load_workbook(folder / "data_requests.xlsx"):
        if sheet["D1"].value == "field":
            found |= {row[:4] for row in sheet.iter_rows(min_row=2, values_only=True)}
    return found


def lacking(made: Audit) -> Cells:
    """What checks wait for, in the words of a data request."""
    query = """
        SELECT DISTINCT blocking_substation, replace(blocking_asset_kind, '_', ' '), blocking_asset,
               replace(field, '_', ' ') FROM audit.missing_field
    """
    return set(made.sql(query).fetchall())


def answer_all(source: Path, target: Path) -> None:
    """Fill in every open cell with the example that the schema gives for its column."""
    book = load_workbook(source)
    for sheet in book:
        if sheet["D1"].value == "field":
            for row in sheet.iter_rows(min_row=2):
                model = INVENTORY_TABLES[row[1].value.replace(" ", "_")]
                row[4].value = model.columns()[row[3].value.replace(" ", "_")].example
                row[6].value = "drawing"
    book.save(target)


@pytest.fixture(scope="module")
def rounds(sample_store: Store, tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[tuple[Audit, Cells]]]:
    """The audits of the sample with the answers to all requests before, until nothing is asked."""
    folder = tmp_path_factory.mktemp("circle")
    sources = [SAMPLE]
    done: list[tuple[Audit, Cells]] = []
    for number in range(MOST_ROUNDS):
        made = audit(sources) if number else Audit(sample_store)
        (folder / str(number)).mkdir()
        write_data_requests(made.store, folder / str(number) / "data_requests.xlsx")
        done.append((made, asked(folder / str(number))))
        sources = [*sources, folder / f"answers {number}.xlsx"]
        answer_all(folder / str(number) / "data_requests.xlsx", sources[-1])
    yield done
    for made, _ in done[1:]:
        made.store.close()


def test_sample_leaves_something_to_ask(rounds: list[tuple[Audit, Cells]]) -> None:
    assert len(rounds[0][1]) >= 3


def test_what_was_answered_is_not_asked_again(rounds: list[tuple[Audit, Cells]]) -> None:
    answered: Cells = set()
    for made, cells in rounds:
        assert not answered & cells
        assert not answered & lacking(made)
        answered |= cells


def test_in_the_end_nothing_is_asked(rounds: list[tuple[Audit, Cells]]) -> None:
    assert rounds[-1][1] == set()


def test_every_answer_was_used(rounds: list[tuple[Audit, Cells]]) -> None:
    made, _ = rounds[-1]
    refused = "SELECT file, cell, reason, expected FROM raw.quarantine WHERE file LIKE 'answers%'"
    assert made.sql(refused).fetchall() == []
    assert made.sql("FROM raw.unread_cell WHERE file LIKE 'answers%'").fetchall() == []
    (used,) = made.sql("SELECT sum(rows_used) FROM raw.account WHERE file LIKE 'answers%'").fetchall()
    assert used[0] == sum(len(cells) for _, cells in rounds)


def test_evidence_names_the_cell_of_the_answer(rounds: list[tuple[Audit, Cells]]) -> None:
    made, _ = rounds[-1]
    cited = made.sql("SELECT DISTINCT cell[1] FROM audit.evidence WHERE source_file LIKE 'answers%'").fetchall()
    assert cited == [("E",)]


def test_answers_in_the_output_folder_are_not_overwritten(sample_store: Store, tmp_path: Path) -> None:
    filled = tmp_path / "data_requests.xlsx"
    write_data_requests(sample_store, filled)
    answer_all(filled, filled)
    content = filled.read_bytes()
    with pytest.raises(OutputFolderError, match=r"data_requests\.xlsx there is one of the sources"):
        audit([SAMPLE, filled]).write(tmp_path)
    assert filled.read_bytes() == content
