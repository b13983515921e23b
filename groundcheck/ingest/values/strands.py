"""Stranded conductors written as strands and their diameter: 7/3.25 in millimeters, 19/.083 in inches."""

import math
import re
from typing import NamedTuple

# Strands that lie in full layers around a core of one or three, and the three of a guy; by geometry.
_COUNTS = frozenset({3, 7, 12, 19, 37, 61, 91, 127})
_MM_PER_INCH = 25.4
# The thickest strand of the old cable sizes is 0.103 in; three decimals of a millimeter are not written.
_THICKEST_IN_INCHES = 0.15
_THINNEST, _THICKEST = 0.2, 6.0

_STRANDED = re.compile(r"(\d{1,3}) ?/ ?(\d?\.\d+|\d(?= ?mm\b)) ?(mm|in|inch|\")?(?: ?dia\.?)?\Z", re.ASCII)
IN_INCHES = "the diameter of the strands is read in inches"


class Strands(NamedTuple):
    """The area of all strands together, and what is to be said of it. [mm2]"""

    area: float
    note: str | None = None


def stranded(text: str) -> Strands | None:
    """
    The area of a stranded conductor, the sum of its strands; None if the text is none.

    A diameter of three decimals below 0.15 without a unit is one of the imperial cable sizes, which had 0.029 to
    0.103 in; metric strands are written with two decimals.
    """
    match = _STRANDED.match(text)
    if match is None or int(match[1]) not in _COUNTS:
        return None
    diameter, unit, note = float(match[2]), match[3], None
    if unit is None and re.search(r"\.\d{3}\Z", match[2]) and diameter < _THICKEST_IN_INCHES:
        unit, note = "in", IN_INCHES
    if unit in ("in", "inch", '"'):
        diameter *= _MM_PER_INCH
    if not _THINNEST <= diameter <= _THICKEST:
        return None
    return Strands(int(match[1]) * math.pi / 4 * diameter**2, note)
