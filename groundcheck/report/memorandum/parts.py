"""Which memoranda a file holds: one a district of the fleet, or one for each district and station that was named."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

import pyarrow as pa

from groundcheck.errors import NoSuchStation
from groundcheck.nearest import nearest
from groundcheck.report.rows import fetch
from groundcheck.store import Store

NO_DISTRICT = "district not on record"


@dataclass(frozen=True)
class Part:
    """What one memorandum is about."""

    name: str
    kind: str  # district or station
    stations: tuple[str, ...]


def fleet_parts(store: Store) -> list[Part]:
    """A part a district, in alphabetical order; stations without one come last."""
    return [Part(name, "district", tuple(stations)) for name, stations in _districts(store).items()]


def named_parts(store: Store, districts: Sequence[str], substations: Sequence[str]) -> list[Part]:
    """
    A part for each district and each station named.

    Raises
    ------
    NoSuchStation
        The store does not hold one; the nearest is named.
    """
    by_district = _districts(store)
    known = sorted(station for stations in by_district.values() for station in stations)
    for kind, names, held in (("district", districts, list(by_district)), ("station", substations, known)):
        for name in names:
            if name not in held:
                hint = f"nearest is {nearest(name, held)}" if held else "it holds none"
                raise NoSuchStation(f"no {kind} {name} in the store; {hint}")
    parts = [Part(name, "district", tuple(by_district[name])) for name in dict.fromkeys(districts)]
    return parts + [Part(name, "station", (name,)) for name in dict.fromkeys(substations)]


@contextmanager
def stations_at_hand(store: Store, parts: Sequence[Part]) -> Iterator[None]:
    """Let queries join memo_station (memo, substation) while it lasts."""
    places = [(number, station) for number, part in enumerate(parts) for station in part.stations]
    table = pa.table(
        {
            "memo": pa.array([number for number, _ in places], pa.int32()),
            "substation": pa.array([station for _, station in places], pa.string()),
        }
    )
    store.connection.register("memo_station", table)
    try:
        yield
    finally:
        store.connection.unregister("memo_station")


def _districts(store: Store) -> dict[str, list[str]]:
    """Every station that the audit speaks of, by district."""
    query = """
        SELECT coalesce(any_value(district), ?) AS place, list(DISTINCT substation ORDER BY substation)
        FROM (
            SELECT substation, any_value(district) AS district FROM (
                SELECT substation, district FROM inventory.substation
                UNION ALL SELECT substation, district FROM audit.finding
                UNION ALL SELECT substation, NULL FROM audit.outcome
            ) WHERE substation IS NOT NULL GROUP BY substation
        ) GROUP BY coalesce(district, ?) ORDER BY place = ?, place
    """
    return dict(fetch(store, query, [NO_DISTRICT] * 3))
