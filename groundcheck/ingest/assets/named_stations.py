"""Every name of a station that the records use: how many rows use it, and where the first of them stands."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from groundcheck.ingest.assets.frame_rows import plain_list
from groundcheck.ingest.assets.identity import tag_key
from groundcheck.ingest.book import Book
from groundcheck.ingest.sheets import Sheet
from groundcheck.ingest.tables.records import Records


@dataclass(slots=True)
class NamedStation:
    """A name as first written; `recorded` says whether it has a record of its own."""

    name: str
    rows: int
    raw_row: int
    column: int | None
    recorded: bool

    def place(self, book: Book) -> tuple[Sheet, str | None]:
        """The first cell that holds the name."""
        return book.place(self.raw_row).sheet, book.cell(self.raw_row, self.column)


def named_stations(records: list[Records]) -> dict[str, NamedStation]:
    """The names by key; the spelling is that of the station's own record, if it has one."""
    found: dict[str, NamedStation] = {}
    own_first = sorted(
        (part for part in records if part.feed.primary and "substation" in part.values and part.rows),
        key=lambda part: part.feed.table != "substation",
    )
    for part in own_first:
        codes, distinct = pd.factorize(part.values["substation"])
        rows = np.bincount(codes[codes >= 0], minlength=len(distinct)).tolist()
        first = np.zeros(len(distinct) + 1, dtype=np.intp)
        first[codes[::-1]] = np.arange(len(codes))[::-1]  # the last to be written is the first row
        column, recorded = part.column_of("substation"), part.feed.table == "substation"
        for name, count, place in zip(distinct.tolist(), rows, first[:-1].tolist(), strict=True):
            known = found.get(tag_key(name))
            if known is None:
                found[tag_key(name)] = NamedStation(name, count, part.raw_rows[place], column, recorded)
            else:
                known.rows += count
    return found


def titles(records: list[Records]) -> dict[str, str]:
    """The full name of each station, where the records give one that is not its tag."""
    found: dict[str, str] = {}
    for part in records:
        if part.feed.table == "substation" and {"substation", "name"} <= part.values.keys():
            both = pd.DataFrame({"station": part.values["substation"], "title": part.values["name"]}).dropna()
            both = both[both["station"] != both["title"]].drop_duplicates()
            for station, title in zip(plain_list(both["station"]), plain_list(both["title"]), strict=True):
                found.setdefault(station, title)
    return found
