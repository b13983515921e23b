"""Buses that are only ever named: created from their mentions, with the voltage that the mention implies."""

import re
from typing import Any

import pandas as pd

from groundcheck.ingest.assets.frame_rows import frame_rows, plain_list
from groundcheck.ingest.assets.identity import tag_key, tag_keys
from groundcheck.ingest.assets.references import reference_columns
from groundcheck.ingest.book import Book
from groundcheck.ingest.tables.records import Records

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
                other = _within(records[source], raw_row, book) + match[1] if match else station
                if tag_key(other) != tag_key(station):
                    named.add(other)
                    spelled.append(f"{other}:{tag}")
                else:
                    spelled.append(tag)
            frame[column.name] = pd.Series(spelled, index=frame.index, dtype="str")
    return named


def _within(records: Records, raw_row: int, book: Book) -> str:
    """What stands before the code of a station on this row, where the column map puts codes within something."""
    station = records.feed.fields["substation"]
    return f"{book.text(raw_row, station.columns[1])} " if len(station.columns) > 1 else ""


def infer_buses(frames: dict[str, pd.DataFrame], stations: dict[str, str], book: Book) -> pd.DataFrame:
    """The buses on record, with those that are only named; two voltages for one bus are a contradiction."""
    own = frames["bus"]
    mentions = _mentions(frames, stations)
    known = {
        (tag_key(row["substation"]), tag_key(row["bus"])): (
            float(row["nominal_voltage"]),
            int(row["raw_row"]),
            str(row["substation"]),
            str(row["bus"]),
        )
        for row in frame_rows(own, "substation", "bus", "nominal_voltage", "raw_row")
    }
    created: list[dict[str, Any]] = []
    for mention in frame_rows(mentions):
        key = (mention["station_key"], mention["bus_key"])
        station, bus, voltage, raw_row = (mention[name] for name in ("station", "bus", "voltage", "raw_row"))
        first = known.get(key)
        if first is None:
            known[key] = (voltage, raw_row, station, bus)
            created.append(_bus(station, bus, voltage, raw_row, mention["field"]))
        elif abs(voltage - first[0]) > _SAME_SYSTEM * min(voltage, first[0]):
            book.contradict(first[2], "bus", first[3], "nominal_voltage", (first[0], first[1]), (voltage, raw_row))
    recorded = {tag_key(station) for station in own["substation"]}
    created += _along_lines(frames, stations, known, recorded)
    if not created:
        return own
    inferred = pd.DataFrame(created).reindex(columns=own.columns).astype(own.dtypes.to_dict())
    return pd.concat([own, inferred], ignore_index=True)


def _bus(station: str, bus: str, voltage: float, raw_row: int, named_in: str) -> dict[str, Any]:
    return {
        "substation": station,
        "bus": bus,
        "nominal_voltage": voltage,
        "raw_row": raw_row,
        "part": 1,
        "inferred_from": named_in,
        "records_position": -1,
        "is_primary": False,
    }


def _mentions(frames: dict[str, pd.DataFrame], stations: dict[str, str]) -> pd.DataFrame:
    """Every bus named together with a voltage, in the order of the rows; each voltage of a bus once."""
    parts = []
    for order, (table, bus, voltage) in enumerate(_TERMINALS):
        frame = frames[table]
        frame = frame[frame[bus].notna() & frame[voltage].notna()]
        part = _split(frame["substation"], frame[bus], stations)
        part["voltage"], part["raw_row"] = frame[voltage].to_numpy(), frame["raw_row"].to_numpy()
        part["field"], part["order"] = f"{table}.{bus}", order
        parts.append(part)
    mentions = pd.concat(parts, ignore_index=True).sort_values(["raw_row", "order"], kind="stable")
    return mentions.drop_duplicates(["station_key", "bus_key", "voltage"])


def _split(station: pd.Series, bus: pd.Series, stations: dict[str, str]) -> pd.DataFrame:
    """Station and tag of each bus named, STATION:TAG taken apart where the station is on record."""
    split = pd.DataFrame({"station": station.to_numpy(), "bus": bus.to_numpy()}, dtype="object")
    for position in split.index[bus.str.contains(":", regex=False).to_numpy(dtype=bool)]:
        before, _, after = str(split.at[position, "bus"]).partition(":")
        if tag_key(before) in stations and after.strip():
            split.loc[position] = [stations[tag_key(before)], after.strip()]
    split["station_key"], split["bus_key"] = tag_keys(split["station"]), tag_keys(split["bus"])
    return split


def _along_lines(
    frames: dict[str, pd.DataFrame],
    stations: dict[str, str],
    known: dict[tuple[str, str], tuple[float, int, str, str]],
    recorded: set[str],
) -> list[dict[str, Any]]:
    """
    Buses at the far end of a line or switch, which joins one voltage only.

    A station that keeps a list of its buses is not given others this way: there the name is more likely a slip.
    """
    ends: list[tuple[_End, _End, int]] = []
    for table, one, other in _JOINS:
        frame = frames[table]
        frame = frame[frame[one].notna() & frame[other].notna()]
        first, second = (frame_rows(_split(frame["substation"], frame[name], stations)) for name in (one, other))
        rows = zip(first, second, frame["raw_row"].tolist(), strict=True)
        ends += [((a, f"{table}.{one}"), (b, f"{table}.{other}"), raw_row) for a, b, raw_row in rows]
    created: list[dict[str, Any]] = []
    grown = True
    while grown:
        grown = False
        for one_end, other_end, raw_row in ends:
            for (near, _), (far, named_in) in ((one_end, other_end), (other_end, one_end)):
                key = (far["station_key"], far["bus_key"])
                source = known.get((near["station_key"], near["bus_key"]))
                if source is None or key in known or key[0] in recorded:
                    continue
                known[key] = (source[0], raw_row, far["station"], far["bus"])
                created.append(_bus(far["station"], far["bus"], source[0], raw_row, named_in))
                grown = True
    return created
