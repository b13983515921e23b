"""Stage raw: every row as it was read, and what was made of it."""

import pandas as pd

from groundcheck.schema.columns import count, key, quantity, text, yes_no
from groundcheck.schema.table import Table

ROW_USES = ("inventory", "quarantine", "heading", "note", "blank")

# The closed list of reasons for which a row waits in quarantine.
QUARANTINE_REASONS = {
    "no_table": "the sheet's headings fit no canonical table",
    "key_missing": "the tag or the station is blank",
    "required_missing": "a required field is blank",
    "unreadable": "a required field can't be read",
    "outside_limits": "a required field is outside its physical limits",
    "unknown_word": "a required field holds a word that is not in its vocabulary",
    "ambiguous": "a required field can be read in more than one way",
    "date_order": "a required date can have the day or the month first",
    "duplicate": "the same asset is already on record, with the same values",
    "conflicting": "the same asset is on record twice, with different values",
    "self_connected": "both ends are the same bus",
    "too_many_cells": "the row has more cells than the heading row",
    "superseded": "a file that the column map puts first has the same asset",
    "no_such_asset": "an answer to a data request is about an asset that is not on record",
    "no_such_field": "an answer to a data request is about a kind or a field that does not exist",
    "key_field": "an answer to a data request is about a tag, which only the register itself can change",
}

# The closed list of what a person is asked; nothing is chosen meanwhile.
QUESTION_SUBJECTS = {
    "heading": "which field a heading feeds",
    "same_heading": "which of several columns feeds the field",
    "date_order": "whether the day or the month stands first in dates",
    "frequency": "what frequency a duration in cycles refers to",
    "station": "whether two names mean one station, or which station a table without one is about",
    "tag": "whether two tags mean one asset",
    "equipment_kind": "which canonical table a kind of equipment belongs to",
    "table": "what a table in a sheet is about",
}


class File(Table):
    """A file that was read, or why it was not."""

    file: str = key("Name as given, relative to the folder named.")
    sha256: str = text("Hash of its bytes.")
    size: pd.Int64Dtype = count("Bytes.")
    reader: str = text("Which reader took it, and what it detected (encoding, delimiter).")
    problem: str = text("Why it could not be read; blank if it was.")
    copy_of: str = text("The file of the same content that was read in its place.")
    path: str = text("Where it was found; blank for frames in memory.")
    read_by: str = text("Version of this program that read it.")


class Skipped(Table):
    """A file of a folder that was passed over: of no kind that is read, or litter of the system."""

    file: str = key("Name, relative to the folder named.")
    reason: str = text("Why it was passed over.")


class Account(Table):
    """The reconciliation: rows_read is the sum of the other counts."""

    file: str = key("File.")
    sheet: str = key("Sheet.")
    rows_read: pd.Int64Dtype = count("Rows up to the last that is filled.")
    rows_used: pd.Int64Dtype = count("Rows that fed the inventory.")
    rows_quarantined: pd.Int64Dtype = count("Rows that wait in quarantine.")
    heading_rows: pd.Int64Dtype = count("Heading rows.")
    note_rows: pd.Int64Dtype = count("Titles, notes and totals.")
    blank_rows: pd.Int64Dtype = count("Blank rows.")
    hidden: pd.BooleanDtype = yes_no("Whether the sheet is hidden.")
    hidden_rows: pd.Int64Dtype = count("Rows that are hidden, and were read; blank if the reader cannot tell.")
    hidden_columns: pd.Int64Dtype = count("Columns that are hidden, and were read; blank if the reader cannot tell.")
    struck_rows: pd.Int64Dtype = count("Rows struck through, and read; blank if the reader cannot tell.")
    turned: pd.BooleanDtype = yes_no("Whether the sheet has a column an asset: its rows are then its columns.")
    remark: str = text("Why the sheet gave no table, where it gave none.")


class Row(Table):
    """One row of one sheet, as text."""

    raw_row: pd.Int64Dtype = count("Number of the row in the store.")
    file: str = text("File.")
    sheet: str = text("Sheet.")
    row: pd.Int64Dtype = count("Row number in the sheet, from 1; of the column in a sheet that has a column an asset.")
    region: pd.Int64Dtype = count("Number of the table in the sheet, from 1; blank outside any.")
    use: str = text("inventory, quarantine, heading, note or blank.")
    cells: object = text("The cells from column A, as text.")


class ColumnMap(Table):
    """Which column fed which field, and how that was decided."""

    file: str = key("File.")
    sheet: str = key("Sheet.")
    region: pd.Int64Dtype = count("Number of the table in the sheet, from 1.")
    column_letter: str = key(
        "Column of the sheet; the number of the row in a sheet that has a column an asset; the cell, where one value "
        "has a place of its own, such as a title."
    )
    heading: str = text("Heading as written.")
    target_table: str = key("Canonical table fed; blank if none.")
    part: pd.Int64Dtype = count("Which of several assets of that table in one row.")
    field: str = key("Field fed; blank if none.")
    unit: str = text("Unit that a bare number in the column takes.")
    how: str = text("map, alias, close match, title, unmapped or ambiguous.")
    certainty: float = quantity("0 to 1.", None)
    candidates: str = text("Fields that it could also be, for the person to choose from.")


class UnreadCell(Table):
    """A cell whose text could not be used: the field is blank for the study."""

    file: str = key("File.")
    sheet: str = text("Sheet.")
    row: pd.Int64Dtype = count("Row.")
    cell: str = key("Cell, such as H14.")
    raw_row: pd.Int64Dtype = count("Row in the store.")
    target_table: str = text("Canonical table.")
    field: str = key("Field left blank.")
    found: str = text("Text found.")
    expected: str = text("What was expected, with unit.")


class NotedCell(Table):
    """A cell that was used, but not quite as it was written: what was made of it."""

    file: str = key("File.")
    sheet: str = text("Sheet.")
    row: pd.Int64Dtype = count("Row.")
    cell: str = key("Cell, such as H14, or a merged range.")
    raw_row: pd.Int64Dtype = count("Row in the store.")
    target_table: str = text("Canonical table.")
    field: str = key("Field fed.")
    found: str = text("Text found.")
    read_as: str = text("What it was taken for.")
    note: str = text("Why it is worth a look.")
    tolerance: float = quantity("Tolerance written beside the value, as a share of it.", None)


class Question(Table):
    """What a person must settle; until then nothing is chosen."""

    question: pd.Int64Dtype = count("Number, from 1.")
    subject: str = text("One of the closed list of subjects.")
    file: str = text("File.")
    sheet: str = text("Sheet.")
    cell: str = text("First cell that it is about.")
    found: str = text("What was found.")
    candidates: str = text("What it can be.")
    cells: pd.Int64Dtype = count("Cells that wait for the answer.")
    answer: str = text("Line of the column map that answers it, to be completed.")


class Quarantine(Table):
    """A row that can't be used, with its reason; it feeds nothing."""

    file: str = key("File.")
    sheet: str = key("Sheet.")
    row: pd.Int64Dtype = count("Row.")
    cell: str = text("Cell that decided it.")
    raw_row: pd.Int64Dtype = count("Row in the store.")
    target_table: str = text("Canonical table it would have fed.")
    reason: str = text("One of the closed list of reasons.")
    found: str = text("Text found.")
    expected: str = text("What was expected, and what to do.")


RAW_TABLES = {
    "file": File,
    "account": Account,
    "row": Row,
    "column_map": ColumnMap,
    "unread_cell": UnreadCell,
    "noted_cell": NotedCell,
    "question": Question,
    "skipped": Skipped,
    "quarantine": Quarantine,
}
