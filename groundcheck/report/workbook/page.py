"""How a sheet lies on paper: A3 landscape, heads repeated, pages numbered, the caution at the foot."""

from collections.abc import Sequence

from xlsxwriter.utility import xl_col_to_name
from xlsxwriter.worksheet import Worksheet

from groundcheck.report.cautions import CAUTION_LINE

A3 = 8  # paper size in the page setup of a workbook
SMALLEST_SCALE = 0.7  # 9-point text is then 6.3 points on paper
_ROWS = 1_048_576
_MARGIN = 0.4  # inches, left and right
_PAPER = 420 / 25.4 - 2 * _MARGIN  # inches across
_POINTS_A_CHARACTER = 5.25  # a column's unit of width: 7 pixels of 1/96 inch
_POINTS_A_COLUMN = 3.75  # and 5 pixels beside the text


def print_scale(widths: Sequence[float]) -> float:
    """Size on paper of columns of these widths, side by side on one A3 page; 1 at most."""
    across = sum(_POINTS_A_CHARACTER * width + _POINTS_A_COLUMN for width in widths)
    return min(1.0, 72 * _PAPER / across) if across else 1.0


def set_page(sheet: Worksheet, last_column: int, widths: Sequence[float], kept_columns: int = 0) -> None:
    """One page wide where that can still be read; else as many as it takes, with the first columns on each."""
    sheet.set_landscape()
    sheet.set_paper(A3)
    sheet.set_margins(left=_MARGIN, right=_MARGIN, top=0.6, bottom=0.6)
    if print_scale(widths) >= SMALLEST_SCALE:
        sheet.fit_to_pages(1, 0)
    else:
        sheet.set_print_scale(round(100 * SMALLEST_SCALE))
        if kept_columns:
            sheet.repeat_columns(0, kept_columns - 1)
        sheet.print_across()  # the pages of one row follow one another
    sheet.repeat_rows(0)
    sheet.set_header("&L&10&A&R&10&F")
    sheet.set_footer(f"&L&8{CAUTION_LINE}&R&8&P / &N")
    sheet.ignore_errors({"number_stored_as_text": f"A1:{xl_col_to_name(last_column)}{_ROWS}"})
