"""What a column expects, as a sentence with its unit and its limit."""

import re

from groundcheck.ingest.values.units import UNITS
from groundcheck.schema import Column

_NOUNS = {
    "voltage": "a voltage",
    "current": "a current",
    "resistance": "a resistance",
    "power": "a power",
    "frequency": "a frequency",
    "duration": "a duration",
    "length": "a length",
    "area": "an area",
    "resistance per length": "an impedance",
    "capacitance": "a capacitance",
    "capacitance per length": "a capacitance",
    "resistivity": "a resistivity",
    "angle": "an angle",
}
_SENTENCES = {
    "text": "a text",
    "key": "a tag",
    "references": "tags of other assets, separated by ';'",
    "vector_group": "a vector group of IEC 60076-1, such as YNd11, Dyn1 or YNyn0d11",
    "size": "a conductor size: an area in mm2, AWG or kcmil, or the two sides of a bar in mm",
    "yes_no": "yes or no",
    "date": "a date, written year-month-day",
    "places": "places by name, separated by ';', or 'none'",
}

_COMPOUND = re.compile(
    r"\A[\d.,]+ ?k?A ?(?:/|@|-|for|x)? ?[\d.,]+ ?-?(?:s|secs?|seconds?|mins?|minutes?|h|hrs?)\Z", re.I
)
_RATIO = re.compile(r"\A[\d.,]+ ?[a-z]*(?: ?[/:] ?[\d.,]+ ?[a-z]*)+\Z", re.I)
_TYPED_LETTER = re.compile(r"(?<=[\d.])[OoIl](?![A-Za-z])|(?<![A-Za-z])[OoIl](?=[\d.,])|(?<=\d)[Oo](?=[\dA-Za-z])")
_DIGIT_OF = {"O": "0", "o": "0", "I": "1", "l": "1"}
_LONGEST = 60


def advice(text: str) -> str:
    """What to do about a text that is not one number, as the end of a sentence; empty where nothing is known."""
    if len(text) > _LONGEST:
        return ""
    if _COMPOUND.match(text):
        return "; give current and time in a column each"
    if _RATIO.match(text):
        return "; a ratio or a list needs a column for each number"
    mended = _TYPED_LETTER.sub(lambda letter: _DIGIT_OF[letter[0]], text)
    return f"; perhaps {mended}, with a letter typed for a digit" if mended != text else ""


def wanted(column: Column) -> str:
    """What a cell of the column is expected to hold."""
    if column.kind == "quantity":
        return _with_limits(_quantity(column), column)
    if column.kind == "count":
        return _with_limits("a whole number", column)
    if column.kind == "choice":
        return "one of " + ", ".join(column.accepted or ())
    if column.kind == "reference":
        kinds = [kind.replace("_", " ") for kind in column.refers_to] or ["other asset"]
        return f"the tag of one {', '.join(kinds[:-1])}{' or ' if len(kinds) > 1 else ''}{kinds[-1]}"
    return _with_limits(_SENTENCES[column.kind], column)


def _quantity(column: Column) -> str:
    if column.unit is None:
        return "a number"
    if " or " in column.unit:
        nouns = [_NOUNS[UNITS[unit].measures] for unit in column.unit.split(" or ")]
        return f"{' or '.join(nouns)} in {column.unit}"
    noun = _NOUNS.get(UNITS[column.unit].measures, "a number")
    if noun == "a resistance" and "reactance" in column.name:
        noun = "a reactance"
    if column.name == "z0" or "impedance" in column.name:
        noun = "an impedance"
    return f"{noun} in {column.unit}" + (" or 'continuous'" if column.unit == "s" else "")


def _with_limits(sentence: str, column: Column) -> str:
    return f"{sentence}, {column.limits}" if column.limits else sentence
