"""What of a station's name is compared with that of others: neither writing nor words for a station count."""

import re
import unicodedata
from typing import NamedTuple

from groundcheck.ingest.assets.station_words import AFTERWARDS, ANYWHERE, APART, IN_FULL, NUMBER_SIGNS, ROLES

_NUMBER = r"\d+(?:\.\d+)?"
_OTHERS = rf"(?:\s*/\s*{_NUMBER})"
_VOLTAGES = re.compile(rf"(?<![\w.]){_NUMBER}(?:{_OTHERS}*\s*kv\b|{_OTHERS}+(?!\w))")
_SHORT_STATION = re.compile(r"\bs\s?[/.]\s?s(tn)?\b\.?")
_SUPPLY_POINT = re.compile(r"\b(?:bulk|grid) supply point\b")
_TOKENS = re.compile(r"[^\W\d_]+|\d+")
_MARKS = re.compile(r"['\u2019`\u0300-\u036f]")
# A word that is one of these does not make a code with a number after it: NORTH2 is no code.
WORDS = ANYWHERE | NUMBER_SIGNS | APART.keys() | IN_FULL.keys() | {"kv"}


class Likeness(NamedTuple):
    """
    What of a name is compared: its letters, those that its words begin with, its words; and what must not differ.

    That is: numbers, points of the compass and the like; what the station does; its voltages.
    """

    letters: str
    initials: str
    apart: tuple[str, ...]
    roles: frozenset[str] = frozenset()
    voltages: frozenset[str] = frozenset()
    words: tuple[str, ...] = ()

    def clashes(self, other: "Likeness") -> bool:
        """Whether both say what the station does, or its voltages, and say it differently."""
        voltages = self.voltages, other.voltages
        return bool(self.roles and other.roles and self.roles != other.roles) or not (
            voltages[0] <= voltages[1] or voltages[1] <= voltages[0]
        )


def likeness(name: str) -> Likeness:
    """What of a name is compared with that of others."""
    text = _MARKS.sub("", unicodedata.normalize("NFKD", name.casefold())).replace("&", " and ")
    voltages: list[str] = []
    if not text.isalpha():
        voltages = [v for found in _VOLTAGES.findall(text) for v in re.findall(_NUMBER, found)]
        text = _SHORT_STATION.sub(" ss ", _VOLTAGES.sub(" ", text) if voltages else text)
        text = _SUPPLY_POINT.sub("grid", text)
    tokens = _TOKENS.findall(text)
    if len(tokens) > 1 and tokens[0] == "the":
        del tokens[0]
    words: list[str] = []
    apart: list[str] = []
    roles: set[str] = set()
    for place, token in enumerate(tokens):
        if token in ANYWHERE or token.startswith("substa") or (place and token in AFTERWARDS):
            continue
        if place and token in ROLES:
            roles.add(ROLES[token])
        elif token[0].isdigit():
            apart.append(token.lstrip("0") or "0")
        elif token in APART or len(token) == 1:
            apart.append(APART.get(token, token))
        elif not (token in NUMBER_SIGNS and place + 1 < len(tokens) and tokens[place + 1].isdigit()):
            words.append(IN_FULL.get(token, token))
    initials = "".join(word[0] for word in words)
    letters = re.sub("street$", "st", "".join(words))
    return Likeness(letters, initials, tuple(sorted(apart)), frozenset(roles), frozenset(voltages), tuple(words))
