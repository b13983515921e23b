"""Whether the numbers of a delimited file carry a decimal comma."""

import re
from collections.abc import Iterable

# A group of three digits after a comma may be thousands, unless a nought or four digits stand before it, so that
# '12,470' says nothing and '0,125' does. '1.234,5' says comma, '1,234.5' says point.
_UNIT = r"(?:\s*[^\d\s,.;]\S*)?\s*"
_COMMA = re.compile(
    r"\s*[-+]?(?:\d+,(?:\d{1,2}|\d{4,})|0,\d{3}|[1-9]\d{3,},\d{3}|,\d+|\d{1,3}(?:\.\d{3})+,\d+)" + _UNIT
)
_POINT = re.compile(
    r"\s*[-+]?(?:\d+\.(?:\d{1,2}|\d{4,})|0\.\d{3}|[1-9]\d{3,}\.\d{3}|\.\d+|\d{1,3}(?:,\d{3})+\.\d+)" + _UNIT
)
_MAJORITY = 4  # numbers with a comma for each with a point: a few of another hand do not turn a file


def writes_decimal_commas(rows: Iterable[list[str]]) -> bool:
    """Whether far more numbers carry a decimal comma than a decimal point."""
    cells = [cell for row in rows for cell in row if "," in cell or "." in cell]
    commas = sum(_COMMA.fullmatch(cell) is not None for cell in cells)
    points = sum(_POINT.fullmatch(cell) is not None for cell in cells)
    return commas > _MAJORITY * points
