"""The sheet Method and cautions: what to beware of, how the study was made, what the words mean, the policy."""

from xlsxwriter.worksheet import Worksheet

from groundcheck.report.cautions import CAUTIONS, HOW_TO_READ, WORDS
from groundcheck.report.rows import fetch
from groundcheck.report.workbook.cells import set_height, write_text
from groundcheck.report.workbook.looks import Looks
from groundcheck.report.workbook.page import set_page
from groundcheck.store import Store

NAME = "Method and cautions"


def write_method(store: Store, sheet: Worksheet, looks: Looks) -> None:
    """Fill the last sheet."""
    set_page(sheet, 1, (26.0, 150.0))
    sheet.hide_gridlines(2)
    sheet.set_column(0, 0, 26, looks["column"])
    sheet.set_column(1, 1, 150, looks["column"])
    run = fetch(store, "SELECT method, policy, tolerances FROM audit.run ORDER BY run DESC LIMIT 1")
    method, policy, tolerances = run[0] if run else (None, None, None)
    margin = f"Tolerances of what is on record: {tolerances}." if tolerances else None
    blocks: list[tuple[str, list[tuple[str, str]]]] = [
        ("Cautions", [("", caution) for caution in CAUTIONS]),
        ("Method of the study", [("", method or "Not recorded.")] + ([("", margin)] if margin else [])),
        ("What the words mean", list(WORDS)),
        ("How to read this workbook", [("", sentence) for sentence in HOW_TO_READ]),
        ("Policy in force", [("", line) for line in (policy or "Not recorded.").splitlines()]),
    ]
    row = 0
    sheet.set_row(row, 22)
    sheet.write_string(row, 0, NAME, looks["title"])
    for heading, lines in blocks:
        row += 2
        sheet.write_string(row, 0, heading, looks["heading"])
        sheet.write_blank(row, 1, None, looks["heading"])
        for word, sentence in lines:
            row += 1
            set_height(sheet, row, (word, sentence), (26.0, 150.0))
            write_text(sheet, row, 0, word, looks["strong"])
            write_text(sheet, row, 1, sentence, looks["sentence"])
