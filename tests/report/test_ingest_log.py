"""ingest_log.txt tells a person what was read as what, sheet by sheet, in sentences."""

from collections.abc import Callable
from pathlib import Path

import pytest

from groundcheck.report.ingest_log import write_ingest_log
from groundcheck.report.ingest_log.page import WIDTH
from groundcheck.store import Store

Fill = Callable[..., None]


@pytest.fixture
def log_of(tmp_path: Path) -> Callable[[Store], list[str]]:
    """The lines of the log, with what is set in taken off."""

    def make(store: Store) -> list[str]:
        write_ingest_log(store, tmp_path / "ingest_log.txt")
        return [line.strip() for line in (tmp_path / "ingest_log.txt").read_text(encoding="utf-8").splitlines()]

    return make


def after(lines: list[str], heading: str) -> list[str]:
    """The lines under a heading."""
    start = lines.index(heading) + 2
    ends = [number for number, line in enumerate(lines) if set(line) == {"-"} and number > start]
    return lines[start : ends[0] - 1 if ends else None]


def heading_row(fill: Fill, store: Store, letter: str, heading: str, **facts: object) -> None:
    place = {"file": "north.xlsx", "sheet": "Resistors", "region": 1, "column_letter": letter, "heading": heading}
    fill(store, "raw.column_map", place | {"certainty": 1.0} | facts)


def test_each_file_is_told_with_its_reader_or_its_problem(
    filled_store: Store, log_of: Callable[[Store], list[str]], fill: Fill
) -> None:
    csv = {"file": "a.csv", "sha256": "c", "size": 12_345, "reader": "csv, utf-16, delimiter ;", "path": "/in/a.csv"}
    fill(filled_store, "raw.file", csv, {"file": "b.csv", "sha256": "c", "size": 1, "copy_of": "a.csv"})
    lines = after(log_of(filled_store), "Files")
    assert lines[:3] == ["a.csv (12 kB)", "Read as: csv, utf-16, delimiter ;.", "Found at: /in/a.csv"]
    assert lines[3:5] == ["b.csv (1 byte)", "Has the same content as a.csv, which was read in its place."]
    assert lines[5:] == [
        *("broken.xlsx (1 byte)", "Could not be read: no workbook inside."),
        *("north.xlsx (1 byte)", "Read as: workbook; 1 sheet.", ""),
    ]


def test_files_passed_over_are_counted_by_reason(filled_store: Store, log_of: Callable[[Store], list[str]]) -> None:
    assert after(log_of(filled_store), "Files passed over")[:2] == [
        "2 files: lock file of a spreadsheet program (~$north.xlsx, ~$south.xlsx).",
        "1 file: of no kind that is read (letter.docx).",
    ]


def test_sheet_has_its_rows_in_one_line(filled_store: Store, log_of: Callable[[Store], list[str]]) -> None:
    lines = after(log_of(filled_store), "Sheets")
    assert lines[0] == "north.xlsx, sheet 'Resistors'"
    assert lines[1] == "8 rows read: 3 used, 1 in quarantine, 1 heading, 2 notes, 1 blank."


def test_what_is_hidden_struck_or_turned_is_said(
    empty_store: Store, log_of: Callable[[Store], list[str]], fill: Fill
) -> None:
    counts = {"rows_read": 1, "rows_used": 1, "hidden_rows": 2, "hidden_columns": 1, "struck_rows": 1}
    fill(empty_store, "raw.account", {"file": "a.xlsx", "sheet": "A", "hidden": True, "turned": True} | counts)
    fill(empty_store, "raw.account", {"file": "a.xlsx", "sheet": "B", "remark": "an empty sheet", "rows_read": 0})
    lines = after(log_of(empty_store), "Sheets")
    assert lines[1:6] == [
        "1 row read: 1 used.",
        "The sheet is hidden; it was read.",
        "Read too: 2 hidden rows and 1 hidden column.",
        "1 row struck through; read as the others are.",
        "It has a column an asset: its columns are counted as rows here.",
    ]
    assert lines[7:10] == ["a.xlsx, sheet 'B'", "No rows.", "Remark: an empty sheet."]


def test_headings_of_a_table_stand_by_how_they_were_decided(
    filled_store: Store, log_of: Callable[[Store], list[str]], fill: Fill
) -> None:
    fed = {"target_table": "neutral_device", "part": 1}
    heading_row(fill, filled_store, "D", "Ohm", field="resistance", how="map", **fed)
    heading_row(
        fill, filled_store, "E", "Rated tyme", field="rated_time", how="close match", **fed | {"certainty": 0.93}
    )
    heading_row(fill, filled_store, "F", "Remarks", how="unmapped")
    heading_row(fill, filled_store, "G", "Rating", how="ambiguous", candidates="rated_current; rated_power")
    lines = after(log_of(filled_store), "Sheets")
    assert "Table 1: feeds neutral device." in lines
    for line in (
        "by the column map (1)  'Ohm' = resistance",
        "close match (1)        'Rated tyme' = rated time (93%)",
        "not mapped (1)         'Remarks'",
        "ambiguous (1)          'Rating' (could be: rated_current; rated_power)",
    ):
        assert line in lines


def test_noted_cells_are_summed_by_note_with_the_first(
    filled_store: Store, log_of: Callable[[Store], list[str]], fill: Fill, noted_cell: dict[str, object]
) -> None:
    for row in range(10, 15):
        fill(filled_store, "raw.noted_cell", noted_cell | {"row": row, "cell": f"C{row}", "note": "a merged cell"})
    lines = after(log_of(filled_store), "Cells read, but not quite as written")
    assert lines[0] == "5 cells: a merged cell."
    assert lines[1].startswith("first north.xlsx · Resistors · C10; north.xlsx · Resistors · C11;")
    assert "1 cell: said to be approximate." in lines
    assert "C14" not in " ".join(lines)


def test_question_is_told_with_the_line_that_settles_it(
    filled_store: Store, log_of: Callable[[Store], list[str]]
) -> None:
    assert after(log_of(filled_store), "Questions")[:5] == [
        "1. Open: which field a heading feeds. Found 'Amps'.",
        "where       north.xlsx · Resistors · C5",
        "can be      rated_current; continuous_current",
        "waiting     3 cells",
        'settled by  "Amps" = "rated_current" in the column map',
    ]


def test_rows_and_cells_that_could_not_be_used_are_counted(
    filled_store: Store, log_of: Callable[[Store], list[str]], fill: Fill
) -> None:
    unread = {"file": "north.xlsx", "sheet": "Resistors", "row": 6, "cell": "D6"}
    fill(filled_store, "raw.unread_cell", unread | {"target_table": "neutral_device", "field": "rated_time"})
    lines = after(log_of(filled_store), "Rows in quarantine and cells that could not be read")
    assert lines[0] == "1 row in quarantine: the tag or the station is blank."
    assert lines[1] == "1 cell could not be read and left blank: neutral device rated time (1)."


def test_hostile_text_stays_on_the_lines_it_belongs_to(
    empty_store: Store, log_of: Callable[[Store], list[str]], fill: Fill, hostile_text: str
) -> None:
    fill(empty_store, "raw.file", {"file": hostile_text, "sha256": "a", "size": 1, "reader": hostile_text})
    lines = after(log_of(empty_store), "Files")
    assert len(lines) == 3
    assert not any(ord(letter) < 32 for line in lines for letter in line)


def test_store_without_anything_says_so(empty_store: Store, log_of: Callable[[Store], list[str]]) -> None:
    lines = log_of(empty_store)
    for heading in ("Files passed over", "Cells read, but not quite as written"):
        assert after(lines, heading)[0] == "None."
    assert after(lines, "Files")[0] == "No file was read."
    assert after(lines, "Questions")[0] == "No question is open."


def test_lines_are_short_enough_to_read(filled_store: Store, log_of: Callable[[Store], list[str]]) -> None:
    assert max(map(len, log_of(filled_store))) <= WIDTH
