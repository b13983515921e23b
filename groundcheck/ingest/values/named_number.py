"""A number with its name or its unit before it: 'R = 10 ohm', 'kV 33'."""

import re

from groundcheck.ingest.values.units import UNITS, factor, known_unit
from groundcheck.schema import Column

_NAMED = re.compile(r"([^\W\d_][\w ./-]{0,30}?) ?[=:] ?(?=[-+]?[\d.,])")
_UNIT_FIRST = re.compile(r"([^\W\d_][^\d=:]{0,20}?)\.? ([-+]?[\d.,]+)\Z")

# Letters of the trade for what a column measures, with any one index; common practice, no source.
_LETTERS = {
    "voltage": ("u", "v"),
    "current": ("i",),
    "power": ("s",),
    "duration": ("t",),
    "resistivity": ("ρ", "rho"),
    "frequency": ("f",),
    "length": ("l",),
}
_IMPEDANCES = frozenset({"ohm", "ohm/km", "%"})


def without_name(text: str, column: Column) -> str:
    """A text without the name of its own column before an equals sign, and with its unit after the number."""
    named = _NAMED.match(text)
    if named is not None and _is_name(named[1].casefold(), column):
        return text[named.end() :]
    unit_first = _UNIT_FIRST.match(text)
    if unit_first is not None and column.unit is not None:
        unit = known_unit(unit_first[1])
        if unit is not None and factor(unit, column.unit, 50.0) is not None:
            return f"{unit_first[2]} {unit_first[1]}"
    return text


def _is_name(name: str, column: Column) -> bool:
    if name in (column.name.casefold(), column.name.casefold().replace("_", " "), *column.aliases):
        return True
    letters: tuple[str, ...] = ()
    for unit in (column.unit or "").split(" or "):
        if unit in UNITS:
            letters += _LETTERS.get(UNITS[unit].measures, ())
    if column.unit in _IMPEDANCES:
        letters = (_impedance_letter(column.name),)
    return any(name.startswith(letter) and len(name) <= len(letter) + 1 for letter in letters)


def _impedance_letter(name: str) -> str:
    if "reactance" in name or name in ("x0", "x1", "x2"):
        return "x"
    return "z" if "impedance" in name or name.startswith("z") else "r"
