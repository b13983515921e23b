"""
A worksheet that takes whole rows as text of its file format.

xlsxwriter makes an object and a list of attributes of every cell. A table has one format a column, so that most of a
cell's text is known before its value is; what is written is the same to the letter, in a fifth of the time.
"""

from typing import Any
from xml.sax.saxutils import quoteattr

from xlsxwriter.worksheet import Worksheet

LINK_LIMIT = 65_530  # hyperlinks of one sheet; Microsoft, 'Excel specifications and limits'
_PIXEL = 0.75  # points; heights are whole pixels


class QuickSheet(Worksheet):  # type: ignore[misc] # it has no usable type information
    """A sheet of a workbook in constant memory; rows are put in order, and mix with cells written one by one."""

    def __init__(self) -> None:
        super().__init__()
        self._links: list[str] = []

    def put_row(self, row: int, cells: str, last_column: int, height: float | None = None) -> None:
        """Write a row below all others; `cells` is the text of its cells, `height` in points."""
        self._check_dimensions(row, 0)
        self._check_dimensions(row, last_column)
        self._write_single_row(row)  # what was written before, cell by cell
        size = "" if height is None else f' ht="{-(-height // _PIXEL) * _PIXEL:.16g}" customHeight="1"'
        self.fh.write(f'<row r="{row + 1}"{size}>{cells}</row>')

    @property
    def has_room_for_link(self) -> bool:
        """Whether one more link is allowed."""
        return len(self._links) + int(self.hlink_count) < LINK_LIMIT

    def put_link(self, cell: str, target: str) -> None:
        """Let a cell lead to a place of this workbook."""
        self._links.append(f'<hyperlink ref="{cell}" location={quoteattr(target)}/>')

    def _write_hyperlinks(self) -> None:
        if self.hyperlinks:
            raise ValueError("links of one sheet are put all in the same way")
        if self._links:
            self.fh.write(f"<hyperlinks>{''.join(self._links)}</hyperlinks>")


def xf_index(look: Any) -> int:
    """The number by which a cell names its format."""
    return int(look._get_xf_index())
