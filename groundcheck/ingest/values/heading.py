"""The unit that a heading names, and the heading without it."""

import re

from groundcheck.ingest.values.cell_text import tidy
from groundcheck.ingest.values.units import UNITS, known_unit

_BRACKETS = re.compile(r"(\s*)[(\[{]([^()\[\]{}]*)[)\]}]")
_QUALIFIER = re.compile(r"[ ,]*\b(?:rms|l-?l|ph-?ph|line[ -]to[ -]line)\Z", re.I)
_NOT_WORDS = re.compile(r"[^\w]+|_+")
_WORD_BREAK = re.compile(r"[\s,;:]+")
_MOST_WORDS = 3

# Units that are also letters, or short for other words, count only after a word that names what they measure.
_SHORT = frozenset({"a", "v", "s", "m", "h", "sec", "hr", "min", "mi", "ha", "ft", "cm", "p u"})
# Of these, the ones that mean nothing else after a comma.
_CLEAR_AFTER_A_COMMA = frozenset({"cm", "mi", "ha", "ft", "hr"})
_MEASURED_BY = {
    "current": "current amps rating rated setting pickup primary secondary pri sec capacity withstand duty is",
    "voltage": "voltage volts rating rated setting pickup primary secondary pri sec hv lv tv un um ur uc",
    "duration": "time duration delay duty clearing rating rated seconds",
    "length": "length width depth perimeter spacing run distance thickness height side route",
    "area": "area",
    "ratio": "x0 x2 xd r z factor",
}
_NAMES_A_THING = frozenset(
    {
        "bus",
        "busbar",
        "node",
        "phase",
        "phases",
        "end",
        "side",
        "section",
        "winding",
        "breaker",
        "feeder",
        "bay",
        "core",
    }
)
_TIME_WORDS = frozenset(_MEASURED_BY["duration"].split())


def heading_unit(heading: str) -> tuple[str, str | None]:
    """
    A heading in lower case without punctuation, and the unit that it names in brackets or at its end.

    A heading that is nothing but a unit keeps it as its text too.
    """
    text = tidy(heading).replace("_", " ")
    for bracket in _BRACKETS.finditer(text):
        before = text[: bracket.start()]
        unit = known_unit(_QUALIFIER.sub("", bracket[2].strip()))
        if unit and _in_brackets(bracket[2].strip(), before, attached=not bracket[1]):
            return _bare(before + " " + text[bracket.end() :]) or _bare(text), unit
    text = re.sub(r"\((s|es)\)", r"\1", text)
    percent = re.sub(r"\A%\s*|\s*%\Z", "", text)
    if percent != text:
        return _bare(percent) or "%", "%"
    return _at_the_end(text)


def _at_the_end(text: str) -> tuple[str, str | None]:
    words = [word for word in _WORD_BREAK.split(text.rstrip(" .:*")) if word]
    for count in range(min(_MOST_WORDS, len(words)), 0, -1):
        ending, before = " ".join(words[-count:]), words[:-count]
        unit = known_unit(ending)
        if unit is None or ending[0] in "-/*.":
            continue
        while before and (before[-1] in ("/", "-", "–") or before[-1].casefold() == "in"):
            before = before[:-1]
        if not before:
            return (_bare(text), unit) if ending.casefold() not in _SHORT else (_bare(text), None)
        apart = (
            ending.casefold() in _CLEAR_AFTER_A_COMMA and text.rstrip(" .:*").removesuffix(ending).rstrip()[-1:] == ","
        )
        if apart or _after_words(ending, unit, _bare(" ".join(before)).split()):
            return _bare(" ".join(before)) or _bare(text), unit
    return _bare(text), None


def _after_words(ending: str, unit: str, before: list[str]) -> bool:
    if ending.casefold().replace(".", "") not in _SHORT:
        return True
    return bool(before) and before[-1] in _MEASURED_BY.get(UNITS[unit].measures, "").split()


def _in_brackets(inside: str, before: str, *, attached: bool) -> bool:
    """Whether a unit's letters in brackets are that unit, and not a plural, a minimum or the name of a thing."""
    words = _bare(before).split()
    letters = inside.casefold().rstrip(".")
    if letters in ("min", "sec") or (letters == "s" and attached):
        return bool(_TIME_WORDS & set(words))
    return letters not in _SHORT or not words or words[-1] not in _NAMES_A_THING


def _bare(text: str) -> str:
    return " ".join(_NOT_WORDS.sub(" ", text.casefold()).split())
