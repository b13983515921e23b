"""What one cell may hold: a value of each kind of column, and the spellings by which registers write it."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from hypothesis import strategies as st

from groundcheck.schema import Column

# Units in which registers write a quantity, and what one canonical unit is in them. SI prefixes; 1 ft is 0.3048 m.
OTHER_UNITS = {
    "kV": {"kV": "1", "V": "1000"},
    "MVA": {"MVA": "1", "kVA": "1000"},
    "kVA": {"kVA": "1", "MVA": "0.001"},
    "A": {"A": "1", "kA": "0.001"},
    "kA": {"kA": "1", "A": "1000"},
    "V": {"V": "1", "kV": "0.001"},
    "s": {"s": "1", "ms": "1000"},
    "km": {"km": "1", "m": "1000"},
    "m": {"m": "1", "cm": "100"},
    "ohm": {"ohm": "1", "Ω": "1", "mohm": "1000"},
    "mohm": {"mohm": "1", "ohm": "0.001"},
    "uF": {"uF": "1", "µF": "1", "nF": "1000"},
    "m2": {"m2": "1", "sq m": "1"},
    "%": {"%": "1", "per cent": "1"},
    "Hz": {"Hz": "1"},
    "ohm/km": {"ohm/km": "1", "Ω/km": "1"},
    "nF/km": {"nF/km": "1", "uF/km": "0.001"},
    "ohm m": {"ohm m": "1", "Ω.m": "1"},
    "deg": {"deg": "1"},
    "pu": {"pu": "1", "%": "100"},
}
GROUPS = ("Dyn11", "Dyn1", "YNd11", "YNyn0", "Yd1", "YNa0d11", "Dzn0", "Yy0", "YNyn0d11", "Yzn5")
AREAS = (16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300)  # IEC 60228, mm2 (recalled)
NAMES = ("Reed", "Moss", "Fern", "Heather", "Willow", "Sedge", "Birch", "Alder", "Hazel")
YES, NO = ("yes", "Y", "TRUE", "✓"), ("no", "N", "FALSE")


@dataclass(frozen=True)
class Cell:
    """A value, and how a register writes it: as it stands, or as a text."""

    value: Any
    written: Any

    @property
    def has_decimals(self) -> bool:
        """Whether a number is written, so that the decimal mark of the file counts."""
        return isinstance(self.written, Decimal)


BLANK = Cell(None, None)


def cells_of(column: Column, buses: list[str], tags: list[str], unit: str | None) -> st.SearchStrategy[Cell]:
    """A cell of a column; `unit` is that of its heading, None if the heading leaves it to the cells."""
    kind = column.kind
    if kind == "quantity":
        return _quantities(column, unit)
    if kind == "count":
        low, high = int(column.ge or 0), int(column.le or 500)
        return st.integers(low, high).map(lambda n: Cell(n, n))
    if kind == "choice":
        return _words(column)
    if kind == "reference":
        targets = buses if column.refers_to == ("bus",) else tags
        return st.sampled_from(targets).map(lambda tag: Cell(tag, tag))
    if kind in ("references", "places"):
        return st.lists(
            st.sampled_from(tags if kind == "references" else NAMES), min_size=1, max_size=3, unique=True
        ).map(lambda items: Cell(items, "; ".join(items)))
    return _PLAIN[kind]


def _quantities(column: Column, unit: str | None) -> st.SearchStrategy[Cell]:
    above = column.gt if column.gt is not None else column.ge
    low = Decimal("0.01") if above is None else Decimal(str(above)) + (Decimal("0.01") if column.gt is not None else 0)
    high = Decimal(str(column.le)) if column.le is not None else Decimal(900)
    numbers = st.decimals(low, high, places=2, allow_nan=False)
    plain = numbers.flatmap(lambda number: _in_units(number, column, unit))
    if column.unit == "s" and column.le is None:
        return plain | st.sampled_from(["continuous", "Continuous", "CONT."]).map(lambda w: Cell(float("inf"), w))
    return plain


def _in_units(number: Decimal, column: Column, unit: str | None) -> st.SearchStrategy[Cell]:
    """A number in the unit of its heading, or with a unit of its own."""
    units = OTHER_UNITS.get(column.unit or "", {})
    bare = number * Decimal(units[unit]) if unit in units else number
    written = [Cell(float(number), bare)]
    written += [Cell(float(number), f"{number * Decimal(times):f} {name}") for name, times in units.items()]
    return st.sampled_from(written)


def _words(column: Column) -> st.SearchStrategy[Cell]:
    accepted = column.accepted or {}
    if column.name == "status":  # what is not in service leaves the inventory
        accepted = {"in service": accepted["in service"]}
    spelled = [(word, spelling) for word, others in accepted.items() for spelling in (word, *others)]
    meanings: dict[str, set[str]] = {}
    for word, others in (column.accepted or {}).items():
        for spelling in (word, *others):
            meanings.setdefault(_plain(spelling), set()).add(word)
    clear = [(word, spelling) for word, spelling in spelled if len(meanings[_plain(spelling)]) == 1]
    return st.tuples(st.sampled_from(clear), st.sampled_from([str, str.upper, str.title])).map(
        lambda drawn: Cell(drawn[0][0], drawn[1](drawn[0][1]))
    )


def _plain(spelling: str) -> str:
    return "".join(letter for letter in spelling.casefold() if letter.isalnum() or letter == "+")


_PLAIN: dict[str, st.SearchStrategy[Cell]] = {
    "text": st.lists(st.sampled_from(NAMES), min_size=1, max_size=3).map(lambda w: Cell(" ".join(w), " ".join(w))),
    "vector_group": st.tuples(st.sampled_from(GROUPS), st.sampled_from([str, str.upper, str.lower])).map(
        lambda drawn: Cell(drawn[0], drawn[1](drawn[0]))
    ),
    "size": st.tuples(st.sampled_from(AREAS), st.sampled_from(["{} mm2", "{}mm²", "{} sq mm"])).map(
        lambda drawn: Cell(float(drawn[0]), drawn[1].format(drawn[0]))
    ),
    "yes_no": st.sampled_from([Cell(True, word) for word in YES] + [Cell(False, word) for word in NO]),
    "date": st.dates(date(1950, 1, 1), date(2060, 12, 31)).map(lambda day: Cell(day, day)),
}
