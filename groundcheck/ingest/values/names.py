"""Free text, tags, lists of tags, and lists of places."""

import re
from collections.abc import Iterable

from groundcheck.ingest.values.cell_text import says_none, says_nothing, tidy
from groundcheck.ingest.values.reading import BLANK, Habits, Reading, ambiguous, unreadable
from groundcheck.ingest.values.wanted import wanted
from groundcheck.schema import Column

_SPACES = re.compile(r"[\s\u200b\ufeff]+")
_BLANKS = re.compile(r"[^\S\n]+")
_TAG_BREAK = re.compile(r"\s*(?:[;,/+&\n]|\sand\s)\s*", re.I)
_PLACE_BREAK = re.compile(r"\s*(?:[;,+&\n]|\s/\s|\sand\s)\s*", re.I)
_BRACKETED = re.compile(r"\([^()]*\)")
# Within brackets nothing is a separator: stand-ins from the private-use area, and back.
_HIDE = {ord(mark): 0xE000 + i for i, mark in enumerate(" \n;,+&/")}
_SHOW = {stand_in: mark for mark, stand_in in _HIDE.items()}
_BARE_SLASH = re.compile(r"\S/\S")
_NOWHERE = frozenset(
    {
        *("none", "nil", "nowhere", "not earthed", "not grounded", "unearthed", "ungrounded", "no earth", "no ground"),
        *("not connected", "no earth point", "no ground point", "floating", "isolated"),
    }
)


def as_text(cell: object) -> str:
    """A cell as text: whole numbers without a decimal point, true and false as a spreadsheet shows them."""
    if isinstance(cell, bool):
        return str(cell).upper()
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    return str(cell)


def read_text(cell: object, column: Column, habits: Habits) -> Reading:
    """Text as it was written, but for blanks around it."""
    text = as_text(cell).strip()
    plain = tidy(text)
    return BLANK if says_nothing(plain) or says_none(plain) else Reading(text)


def read_tag(cell: object, column: Column, habits: Habits) -> Reading:
    """A tag as it was written, with single spaces."""
    text = _SPACES.sub(" ", as_text(cell)).strip()
    plain = tidy(text)
    return BLANK if says_nothing(plain) or says_none(plain) else Reading(text)


def read_tags(cell: object, column: Column, habits: Habits) -> Reading:
    """A list of tags."""
    if isinstance(cell, str):
        plain = tidy(cell)
        if says_nothing(plain) or says_none(plain):
            return BLANK
    tags = _pieces(cell, _TAG_BREAK)
    return Reading(list(dict.fromkeys(tags))) if tags else BLANK


def read_places(cell: object, column: Column, habits: Habits) -> Reading:
    """A list of places: empty if the text says that there are none, blank if it says nothing."""
    if isinstance(cell, str):
        plain = tidy(cell)
        if plain.casefold().rstrip(".") in _NOWHERE:
            return Reading([])
        if says_nothing(plain):
            return BLANK
        cell = _BRACKETED.sub(lambda brackets: brackets[0].translate(_HIDE), cell)
    places = [place.translate(_SHOW) for place in _pieces(cell, _PLACE_BREAK)]
    if any(place.replace(".", "").isdigit() for place in places):
        return unreadable(wanted(column))
    if any(_BARE_SLASH.search(place) for place in places):
        return ambiguous("one place or two: separate places with ';'")
    return Reading(places)


def _pieces(cell: object, breaks: re.Pattern[str]) -> list[str]:
    if isinstance(cell, Iterable) and not isinstance(cell, str):
        texts = [as_text(piece) for piece in cell]
    else:
        texts = breaks.split(_BLANKS.sub(" ", as_text(cell)))
    pieces = (_SPACES.sub(" ", text).strip() for text in texts)
    return [piece for piece in pieces if piece]
