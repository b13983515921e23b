"""Any inventory of a few canonical tables, drawn from their models, with the headings under which it is written."""

from dataclasses import dataclass, field
from functools import cache
from typing import Any

from hypothesis import strategies as st
from round_trips.values import BLANK, OTHER_UNITS, Cell, cells_of

from groundcheck.schema import INVENTORY_TABLES, Column

STATIONS = ("Ash Lane", "ELM", "Quarry Hill", "North 4")
BUSES = ["B33", "B11", "Main 66"]
# A word at the end of a heading that names a unit fixes it.
UNIT_WORDS = {
    **dict.fromkeys(("kv",), "kV"),
    **dict.fromkeys(("volts", "v"), "V"),
    **dict.fromkeys(("amps", "amp"), "A"),
    **dict.fromkeys(("ohms", "ohm"), "ohm"),
    **dict.fromkeys(("mva",), "MVA"),
    **dict.fromkeys(("kva",), "kVA"),
    **dict.fromkeys(("ka",), "kA"),
    **dict.fromkeys(("seconds", "sec", "secs"), "s"),
    **dict.fromkeys(("m", "metres"), "m"),
    **dict.fromkeys(("km",), "km"),
    **dict.fromkeys(("mm2",), "mm2"),
    **dict.fromkeys(("hz",), "Hz"),
    **dict.fromkeys(("%", "percent"), "%"),
}


@dataclass
class Sheet:
    """One canonical table as a sheet: its fields in the order of its columns, their headings, and the rows."""

    table: str
    fields: list[str]
    headings: list[str]
    rows: list[dict[str, Cell]] = field(default_factory=list)

    def grid(self) -> list[list[Any]]:
        """The headings, and the cells as they are written."""
        return [list(self.headings), *([row[name].written for name in self.fields] for row in self.rows)]

    def records(self) -> dict[tuple[str, ...], dict[str, Any]]:
        """The values by key."""
        keys = INVENTORY_TABLES[self.table].key_columns()
        return {
            tuple(row[name].value for name in keys): {name: cell.value for name, cell in row.items()}
            for row in self.rows
        }


@cache
def headings_of(table: str) -> dict[str, list[str]]:
    """For each field the headings that mean it and no other field of its table."""
    columns = INVENTORY_TABLES[table].columns()
    meanings: dict[str, set[str]] = {}
    for column in columns.values():
        for heading in (column.name.replace("_", " "), *column.aliases):
            meanings.setdefault(heading.casefold(), set()).add(column.name)
    return {
        name: [
            heading
            for heading in dict.fromkeys((name.replace("_", " "), *column.aliases))
            if meanings[heading.casefold()] == {name}
        ]
        for name, column in columns.items()
    }


@st.composite
def _heading(draw: st.DrawFn, table: str, column: Column) -> tuple[str, str | None]:
    """A heading of a column, and the unit that it gives to bare numbers."""
    heading = draw(st.sampled_from(headings_of(table)[column.name]))
    word = heading.rpartition(" ")[2]
    unit = UNIT_WORDS.get(word, column.unit)
    if column.kind == "quantity" and word not in UNIT_WORDS and column.unit in OTHER_UNITS and draw(st.booleans()):
        unit = draw(st.sampled_from(list(OTHER_UNITS[column.unit])))
        # One letter after a comma may be anything.
        suffixes = [" ({})", "({})", " [{}]", ", {}"][: 4 if len(unit) > 1 else 3]
        heading = draw(st.sampled_from([str, str.title]))(heading)
        return heading + draw(st.sampled_from(suffixes)).format(unit), unit
    return draw(st.sampled_from([str, str.upper, str.title, str.capitalize]))(heading), unit


@st.composite
def sheets(draw: st.DrawFn, table: str) -> Sheet:
    """A sheet about one table: its required columns and some others, in any order."""
    columns = INVENTORY_TABLES[table].columns()
    required = [name for name, column in columns.items() if column.required]
    # Another name that two stations share is asked about, and rightly.
    others = [name for name in columns if name not in required and name != "also_known_as"]
    # A single column is no table: it may be any list.
    chosen = draw(st.lists(st.sampled_from(others), unique=True, min_size=len(required) == 1, max_size=6))
    fields = draw(st.permutations([*required, *chosen]))
    named = {name: draw(_heading(table, columns[name])) for name in fields}
    sheet = Sheet(table, fields, [named[name][0] for name in fields])
    stations = draw(st.lists(st.sampled_from(STATIONS), min_size=1, max_size=3, unique=True))
    keys = INVENTORY_TABLES[table].key_columns()
    for number in range(draw(st.integers(1, 5))):
        station = stations[number] if len(keys) == 1 and number < len(stations) else stations[number % len(stations)]
        if len(keys) == 1 and number >= len(stations):
            break
        row = {}
        for name in fields:
            if name in keys:
                tag = (
                    station if name == "substation" else f"{draw(st.sampled_from('TQXK'))}{'abcde'[number]}{number + 1}"
                )
                row[name] = Cell(tag, tag)
            elif name not in required and draw(st.integers(0, 3)) == 0:
                row[name] = BLANK
            else:
                row[name] = draw(cells_of(columns[name], BUSES, ["T1", "T2", "G1"], named[name][1]))
        _part_ends(row)
        sheet.rows.append(row)
    return sheet


def _part_ends(row: dict[str, Cell]) -> None:
    """Both ends of a branch on one bus can't be."""
    for one, other in (("hv_bus", "lv_bus"), ("bus_a", "bus_b"), ("from_bus", "to_bus")):
        if one in row and other in row and row[one].value == row[other].value:
            away = BUSES[(BUSES.index(row[one].value) + 1) % len(BUSES)]
            row[other] = Cell(away, away)


@st.composite
def inventories(draw: st.DrawFn) -> list[Sheet]:
    """Sheets about one to three tables."""
    tables = draw(st.lists(st.sampled_from(list(INVENTORY_TABLES)), min_size=1, max_size=3, unique=True))
    return [draw(sheets(table)) for table in tables]
