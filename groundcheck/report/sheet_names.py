"""Names of sheets made from names of any kind: what a workbook forbids is replaced, and no two are alike."""

import re
from collections.abc import Iterable

from groundcheck.report.cell_text import clean_text

NAME_LIMIT = 31  # UTF-16 units, as a workbook counts characters, of a sheet's name; Microsoft, 'Rename a worksheet'
_FORBIDDEN = re.compile(r"[\[\]:*?/\\\n\t]")
_RESERVED = "history"  # the same page


def distinct_sheet_names(wanted: Iterable[str], taken: Iterable[str] = ()) -> list[str]:
    """A name for each that is wanted, in order; of two that come out alike, the second is numbered."""
    used = {name.casefold() for name in taken} | {_RESERVED}
    names = []
    for text in wanted:
        plain = _FORBIDDEN.sub("_", clean_text(text)).strip().strip("'") or "Sheet"
        name, number = _cut(plain, NAME_LIMIT).rstrip(" '"), 1
        while name.casefold() in used:
            number += 1
            name = _numbered(plain, number)
        used.add(name.casefold())
        names.append(name)
    return names


def _numbered(plain: str, number: int) -> str:
    mark = f" ({number})"
    return _cut(plain, NAME_LIMIT - len(mark)).rstrip() + mark


def _cut(text: str, units: int) -> str:
    return text.encode("utf-16-le")[: 2 * units].decode("utf-16-le", errors="ignore")
