"""What stands around a number: that it is about right, its tolerance, or that it is a limit or a range and no value."""

import re
from typing import NamedTuple

APPROXIMATE = "approximate"
FOOTNOTE = "a footnote mark is left out"
LIMIT = "a limit"
RANGE = "a range"

_MARKS = re.compile(r"[\s*†‡§¶]*[*†‡§¶]\Z")
_QUOTED = re.compile(r"([\"'“‘])(.*)(?:\1|[”’])\Z")

_ABOUT = r"approx(?:imately|imate)?\.?|about|abt\.?|circa|ca\.?|around|roughly|est(?:imated|imate|d)?\.?|say"
_ABOUT_BEFORE = re.compile(rf"\A(?:[~≈∼≃≅]+|c\.|(?:{_ABOUT})(?![a-z]))[ :]*(?=[-+\d.,])", re.I)
_ABOUT_AFTER = re.compile(rf"(?:\s*[(\[]\s*|\s+|(?<=\d))(?:{_ABOUT})\s*[)\]]?\Z", re.I)

_COMPARED = (
    r"[<>≤≥≦≧]=?|=[<>]|(?:not |no )?(?:less|more|greater|lower|higher) than"
    r"|at (?:least|most)|up to|above|below|over|under"
)
_LIMIT_BEFORE = re.compile(rf"(?:{_COMPARED}|(?:min|max)(?:imum|\.)?(?![a-z]))[ :=]*[-+]?[\d.,]", re.I)
_LIMIT_AFTER = re.compile(
    r"(?:maximum|minimum|\bmax\.?|\dmax\.?|or (?:more|less|over|above|below|under|higher|lower)|[\da-zΩ%] ?\+"
    r"|[<>≤≥]|\((?:min|max)\.?\))\Z",
    re.I,
)
_MINIMUM_AFTER = re.compile(r"(?:[a-zΩ%.)] ?|(?P<figure>\d) ?)\bmin\.?\Z|(?P<joined>\d)min\.?\Z", re.I)

_ITEM = r"[-+]?(?P<{}>[\d.,]*\d)\s?(?:[a-zΩ%°]+[a-z0-9./²]*)?"
_RANGE = re.compile(rf"{_ITEM.format('low')}\s*(?P<mark>[-\u2010-\u2015]|to|\.\.+|~)\s*{_ITEM.format('high')}\Z", re.I)
_POWER_OF_TEN = re.compile(r"[-+]?[\d.,]+e[-+]?\d", re.I)
_BETWEEN = re.compile(r"(?:between|from) [\d.,]+.* (?:and|to) [\d.,]+", re.I)

_SIGNS = r"±|\+ ?/? ?-"
_TOLERANCE = re.compile(
    rf"(?P<body>.*?\d.*?)[\s,;]*[(\[]?\s*(?:tol(?:erance|\.)?[ :]*(?:{_SIGNS})?|{_SIGNS})\s*"
    r"(?P<tolerance>[\d.,]+ ?[^\d()\[\]]*?)\s*(?:tol(?:erance|\.)?)?\s*[)\]]?\Z",
    re.I,
)
_TOLERANCE_AFTER = re.compile(
    r"(?P<body>.*?\d.*?)(?:\s|[,;(\[])+(?P<tolerance>[\d.,]+ ?%) ?tol(?:erance|\.)?\s*[)\]]?\Z", re.I
)
_UNEQUAL = re.compile(
    r"(?P<body>.*?\d.*?)[\s,]*[(\[]?\s*\+ ?(?P<up>[\d.,]+) ?%?\s*[/,;]?\s*- ?(?P<down>[\d.,]+) ?%\s*[)\]]?\Z"
)
_LONGEST = 120


class Qualified(NamedTuple):
    """The text of one value, what was said of it, the text of its tolerance; or why it is no value."""

    text: str
    note: str | None = None
    tolerance: str | None = None
    no_value: str | None = None


def qualify(text: str, *, duration: bool = False) -> Qualified:
    """
    Part a tidy text into the value and what is said of it.

    In a duration 'min' after a figure is a minute, and after a unit a minimum; elsewhere it is always a minimum.
    """
    if len(text) > _LONGEST:
        return Qualified(text)
    notes = []
    if quoted := _QUOTED.match(text):
        text = quoted[2].strip()
    if _MARKS.search(text):
        text = _MARKS.sub("", text)
        notes.append(FOOTNOTE)
    plain = _ABOUT_AFTER.sub("", _ABOUT_BEFORE.sub("", text))
    if plain != text:
        text = plain.strip()
        notes.append(APPROXIMATE)
    note = "; ".join(notes) or None
    if _is_limit(text, duration):
        return Qualified(text, no_value=LIMIT)
    if match := _UNEQUAL.match(text):
        larger = max(match["up"], match["down"], key=_rough)
        notes.append(f"tolerances of +{match['up']} % and -{match['down']} %: the larger is kept")
        return Qualified(match["body"], "; ".join(notes), f"{larger} %")
    if match := _TOLERANCE.match(text) or _TOLERANCE_AFTER.match(text):
        return Qualified(match["body"].strip(), note, match["tolerance"].strip())
    if _is_range(text):
        return Qualified(text, no_value=RANGE)
    return Qualified(text, note)


def _is_limit(text: str, duration: bool) -> bool:
    if _LIMIT_BEFORE.match(text) or _LIMIT_AFTER.search(text):
        return True
    least = _MINIMUM_AFTER.search(text)
    return least is not None and not (duration and (least["figure"] or least["joined"]))


def _is_range(text: str) -> bool:
    """Whether two rising numbers are joined by a dash, or any two by a word."""
    match = _RANGE.match(text)
    if match is None:
        return _BETWEEN.match(text) is not None
    if _POWER_OF_TEN.match(text):
        return False
    by_a_word = match["mark"][0] in "tT.~"
    return by_a_word or _rough(match["low"]) < _rough(match["high"])


def _rough(number: str) -> float:
    """About what a number is: enough to say which of two is larger."""
    try:
        return float(number.replace(",", "."))
    except ValueError:
        return 0.0
