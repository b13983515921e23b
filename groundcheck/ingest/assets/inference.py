"""Buses that are only ever named: created from their mentions, with the voltage that the mention implies."""

import re
from typing import Any

import numpy as np
import pandas as pd

from groundcheck.ingest.assets.frame_rows import frame_rows, plain_list
from groundcheck.ingest.assets.identity import tag_key, tag_keys
from groundcheck.ingest.assets.references import reference_columns
from groundcheck.ingest.assets.tag_numbers import TagNumbers
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.tables.records import Records
from groundcheck.ingest.tables.typed_values import blank_series, text_series

# The bus at each terminal, and the field that tells its voltage.
_TERMINALS = (
    ("transformer", "hv_bus", "hv_voltage"),
    ("transformer", "lv_bus", "lv_voltage"),
    ("transformer", "tv_bus", "tv_voltage"),
    ("generator", "bus", "rated_voltage"),
)
_JOINS = (("line", "from_bus", "to_bus"), ("switch", "bus_a", "bus_b"))
_End = tuple[dict[str, Any], str]  # station, tag and their keys; the field that names it
_SAME_SYSTEM = 0.12  # a winding is rated up to a tenth above its system's nominal voltage: common practice, no source


def name_bus_stations(frames: dict[str, pd.DataFrame], records: list[Records], book: Book) -> set[str]:
    """
    Write STATION:TAG for the buses of other stations where the column map tells a bus's station from its tag.

    Returns the stations so named.
    """
    named: set[str] = set()
    patterns = {
        number: part.feed.entry.bus_station
        for number, part in enumerate(records)
        if part.feed.entry is not None and part.feed.entry.bus_station is not None
    }
    if not patterns:
        return named
    for table, frame in frames.items():
        for column in reference_columns(table):
            if column.refers_to != ("bus",) or frame.empty:
                continue
            spelled = []
            names = ("substation", column.name, "records_position", "raw_row")
            cells = zip(*(plain_list(frame[name]) for name in names), strict=True)
            for station, tag, source, raw_row in cells:
                pattern = patterns.get(source)
                match = re.search(pattern, tag) if pattern and isinstance(tag, str) and ":" not in tag else None
                other = within(records[source], raw_row, book) + match[1] if match else station
                if tag_key(other) != tag_key(station):
                    named.add(other)
                    spelled.append(f"{other}:{tag}")
                else:
                    spelled.append(tag)
            frame[column.name] = pd.Series(spelled, index=frame.index, dtype="str")
    return named


def within(records: Records, raw_row: int, book: Book) -> str:
    """What stands before the code of a station on this row, where the column map puts codes within something."""
    station = records.feed.fields["substation"]
    return f"{book.text(raw_row, station.columns[1])} " if len(station.columns) > 1 else ""


def infer_buses(frames: dict[str, pd.DataFrame], stations: dict[str, str], book: Book) -> pd.DataFrame:
    """The buses on record, with those that are only named; two voltages for one bus are a contradiction."""
    own = frames["bus"]
    numbers = TagNumbers()
    mentions = pd.concat([_recorded(own, numbers), _mentions(frames, stations, numbers)], ignore_index=True)
    repeated = mentions.duplicated("place").to_numpy()
    known = mentions[~repeated]
    _contradict_voltages(mentions[mentions["place"].isin(mentions["place"][repeated])], book)
    created = [_buses(known[known["field"].notna()])]
    ends = _line_ends(frames, stations)
    if ends:
        created.append(_buses(_along_lines(ends, known, set(tag_keys(own["substation"])))))
    inferred = pd.concat(created).reindex(columns=own.columns).astype(own.dtypes.to_dict())
    return pd.concat([own, inferred], ignore_index=True) if len(inferred) else own


def _recorded(own: pd.DataFrame, numbers: TagNumbers) -> pd.DataFrame:
    """The buses on record in the form of mentions."""
    said = {"station": own["substation"], "bus": own["bus"], "place": numbers.places(own["substation"], own["bus"])}
    blank = blank_series(len(own), table_columns("bus")["bus"])
    return pd.DataFrame(said | {"voltage": own["nominal_voltage"], "raw_row": own["raw_row"], "field": blank})


def _contradict_voltages(mentions: pd.DataFrame, book: Book) -> None:
    """Name every voltage of a bus that is another than the first."""
    first = mentions.groupby("place", sort=False)[["station", "bus", "voltage", "raw_row"]].transform("first")
    voltage = mentions["voltage"].to_numpy()
    known = first["voltage"].to_numpy()
    apart = np.abs(voltage - known) > _SAME_SYSTEM * np.minimum(voltage, known)
    for one, other in zip(frame_rows(first[apart]), frame_rows(mentions[apart]), strict=True):
        pair = ((one["voltage"], int(one["raw_row"])), (other["voltage"], int(other["raw_row"])))
        book.contradict(one["station"], "bus", one["bus"], "nominal_voltage", *pair)


def _buses(mentions: pd.DataFrame) -> pd.DataFrame:
    """Records of buses that are only named."""
    return pd.DataFrame(
        {
            "substation": mentions["station"],
            "bus": mentions["bus"],
            "nominal_voltage": mentions["voltage"],
            "raw_row": mentions["raw_row"],
            "part": 1,
            "inferred_from": mentions["field"],
            "records_position": -1,
            "is_primary": False,
        }
    )


def _mentions(frames: dict[str, pd.DataFrame], stations: dict[str, str], numbers: TagNumbers) -> pd.DataFrame:
    """Every bus named together with a voltage, in the order of the rows; each voltage of a bus once."""
    parts = []
    for order, (table, bus, voltage) in enumerate(_TERMINALS):
        frame = frames[table]
        frame = frame[frame[bus].notna() & frame[voltage].notna()]
        part = _split(frame["substation"], frame[bus], stations)
        part["place"] = numbers.places(part["station"], part["bus"])
        part["voltage"], part["raw_row"] = frame[voltage].to_numpy(), frame["raw_row"].to_numpy()
        part["field"] = text_series([f"{table}.{bus}"], take=np.zeros(len(part), dtype=np.intp))
        part["order"] = order
        parts.append(part.drop_duplicates(["place", "voltage"]))
    mentions = pd.concat(parts, ignore_index=True).sort_values(["raw_row", "order"], kind="stable")
    return mentions.drop_duplicates(["place", "voltage"])


def _split(station: pd.Series, bus: pd.Series, stations: dict[str, str]) -> pd.DataFrame:
    """Station and tag of each bus named, STATION:TAG taken apart where the station is on record."""
    split = pd.DataFrame({"station": station.array, "bus": bus.array})
    elsewhere = np.flatnonzero(bus.str.contains(":", regex=False).to_numpy(dtype=bool)).tolist()
    if not elsewhere:
        return split
    homes, tags = plain_list(station), plain_list(bus)
    for position in elsewhere:
        before, _, after = tags[position].partition(":")
        if tag_key(before) in stations and after.strip():
            homes[position], tags[position] = stations[tag_key(before)], after.strip()
    return pd.DataFrame({"station": text_series(homes), "bus": text_series(tags)})


def _line_ends(frames: dict[str, pd.DataFrame], stations: dict[str, str]) -> list[tuple[_End, _End, int]]:
    """Both ends of every line and switch, with its row."""
    ends: list[tuple[_End, _End, int]] = []
    for table, one, other in _JOINS:
        frame = frames[table]
        frame = frame[frame[one].notna() & frame[other].notna()]
        first, second = (_ends_of(_split(frame["substation"], frame[name], stations)) for name in (one, other))
        rows = zip(first, second, frame["raw_row"].tolist(), strict=True)
        ends += [((a, f"{table}.{one}"), (b, f"{table}.{other}"), raw_row) for a, b, raw_row in rows]
    return ends


def _ends_of(split: pd.DataFrame) -> list[dict[str, Any]]:
    keys = {"station_key": tag_keys(split["station"]), "bus_key": tag_keys(split["bus"])}
    return frame_rows(split.assign(**keys))


def _along_lines(ends: list[tuple[_End, _End, int]], known: pd.DataFrame, recorded: set[str]) -> pd.DataFrame:
    """
    Buses at the far end of a line or switch, which joins one voltage only.

    A station that keeps a list of its buses is not given others this way: there the name is more likely a slip.
    """
    voltages: dict[tuple[str, str], float] = dict(
        zip(zip(tag_keys(known["station"]), tag_keys(known["bus"]), strict=True), known["voltage"], strict=True)
    )
    created: list[dict[str, Any]] = []
    grown = True
    while grown:
        grown = False
        for one_end, other_end, raw_row in ends:
            for (near, _), (far, named_in) in ((one_end, other_end), (other_end, one_end)):
                key = (far["station_key"], far["bus_key"])
                voltage = voltages.get((near["station_key"], near["bus_key"]))
                if voltage is None or key in voltages or key[0] in recorded:
                    continue
                voltages[key] = voltage
                created.append(far | {"voltage": voltage, "raw_row": raw_row, "field": named_in})
                grown = True
    return pd.DataFrame(created, columns=["station", "bus", "voltage", "raw_row", "field"])
