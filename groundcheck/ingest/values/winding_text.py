"""Vector groups in the notation of IEC 60076-1, read from letters in any case or from words."""

import re

from groundcheck.ingest.values.cell_text import says_none, says_nothing, tidy
from groundcheck.ingest.values.reading import BLANK, Habits, Reading, unreadable
from groundcheck.ingest.values.wanted import wanted
from groundcheck.schema import Column, parse_vector_group

_WINDING = "YN|Y|D|ZN|Z"
_CLOCK = "(1[0-2]|0?[0-9])?"
_LETTERS = re.compile(rf"({_WINDING})(AUTO|A|{_WINDING}){_CLOCK}(?:({_WINDING}){_CLOCK})?\Z", re.ASCII)
_SEPARATORS = re.compile(r"[\s\-/_.,;:()+'\u2010-\u2015]+")
_DELTA_SIGNS = str.maketrans("Δ∆△", "DDD")

_WINDING_WORDS = {"delta": "D", "mesh": "D", "wye": "Y", "star": "Y", "zigzag": "Z", "interstar": "Z"}
_WINDING_LETTERS = {"d": "D", "y": "Y", "z": "Z", "yn": "YN", "zn": "ZN", "yg": "YN", "zg": "ZN"}
_GROUNDED = frozenset({"grounded", "earthed", "gnd", "grd", "grounding", "earth", "ground"})
_NOT_GROUNDED = frozenset({"ungrounded", "unearthed"})
_IDLE = frozenset({"with", "neutral", "solidly", "winding", "connected", "connection", "the"})
_ONE_WORD = re.compile(r"zig[ -]zag|inter-?connected[ -]star")
_BREAKS = re.compile(r"\s*[-/,\u2010-\u2015]\s*|\s+to\s+")
_TOKEN = re.compile(r"[a-z]+|\d+")


def read_vector_group(cell: str, column: Column, habits: Habits) -> Reading:
    """A vector group in IEC notation, the high-voltage winding first."""
    text = tidy(cell)
    if says_nothing(text) or says_none(text):
        return BLANK
    group = _from_words(text.casefold()) or _from_letters(text)
    if group is None:
        return unreadable(wanted(column))
    try:
        group = parse_vector_group(group).text
    except ValueError:
        return unreadable(wanted(column))
    in_order = text[0].islower() and any(letter.isupper() for letter in text)
    return Reading(group, note="a capital letter is not the first: read in the order written" if in_order else None)


def _from_letters(text: str) -> str | None:
    compact = _SEPARATORS.sub("", text.translate(_DELTA_SIGNS)).upper()
    match = _LETTERS.match(re.sub("(?<=[YZ])G", "N", compact))
    if match is None:
        return None
    hv, lv, lv_clock, tv, tv_clock = match.groups(default="")
    return hv + lv.lower() + _clock(lv_clock) + tv.lower() + _clock(tv_clock)


def _clock(digits: str) -> str:
    """The clock number without a leading zero; 12 o'clock is 0."""
    return str(int(digits) % 12) if digits else ""


def _from_words(text: str) -> str | None:
    """From 'delta - wye grounded' and the like; None if the text is not made of such words."""
    text = _ONE_WORD.sub("zigzag", text)
    if not any(word in text for word in _WINDING_WORDS):
        return None
    windings: list[str] = []
    clock = ""
    for part in _BREAKS.split(text):
        for token in _TOKEN.findall(part):
            if clock:
                return None
            clock = token if token.isdigit() else ""
        found = _windings(part)
        if found is None:
            return None
        if not found and _says_grounded(part):
            if not windings or windings[-1] not in "YZ":
                return None
            windings[-1] += "N"
        windings += found
    if len(windings) not in (2, 3) or (clock and len(windings) == 3):
        return None
    return windings[0] + "".join(winding.lower() for winding in windings[1:]) + _clock(clock)


def _windings(part: str) -> list[str] | None:
    """The windings of one part; None if a word is strange, or if 'grounded' can belong to more than one."""
    found = []
    for token in _TOKEN.findall(part):
        letter = _WINDING_WORDS.get(token) or _WINDING_LETTERS.get(token)
        if letter:
            found.append(letter)
        elif not (token.isdigit() or token in _GROUNDED | _NOT_GROUNDED | _IDLE):
            return None
    if _says_grounded(part) and found:
        groundable = [i for i, letter in enumerate(found) if letter in ("Y", "Z")]
        if len(groundable) != 1:
            return None
        found[groundable[0]] += "N"
    return found


def _says_grounded(part: str) -> bool:
    tokens = set(_TOKEN.findall(part))
    return bool(tokens & _GROUNDED) and not tokens & _NOT_GROUNDED
