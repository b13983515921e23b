"""All that the store knows of each station: records, study, assumptions, what could not be assessed."""

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from typing import Any, NotRequired, TypedDict, cast

from groundcheck.report.facts.streaming import Groups, stream_clean
from groundcheck.schema import INVENTORY_TABLES, STAGES
from groundcheck.schema.columns import Column
from groundcheck.store import Store

Row = dict[str, Any]


class StandsIn(TypedDict):
    """A typical value that stands in for a blank field."""

    asset_kind: str
    asset: str
    field: str
    value: str | None
    why: str | None


class Blocking(TypedDict):
    """A field that would make a check assessable, and the cell to fill in, where the sheet has one."""

    substation: str
    asset_kind: str
    asset: str
    field: str
    file: str | None
    sheet: str | None
    cell: str | None


class NotAssessable(TypedDict):
    """A check that could not be made."""

    rule: str
    title: str | None
    asset_kind: str
    asset: str
    item: str | None
    message: str | None
    fields: list[Blocking]


class LeftOut(TypedDict):
    """An asset that the study left out, and why; `field` is where it can be put right."""

    asset_kind: str
    asset: str
    why: str | None
    field: str | None


class StationFacts(TypedDict):
    """
    A station. Texts are clean, dates are texts (ISO 8601), infinite values are the float `inf`.

    `inventory` holds the rows by table, in service or not (`status`), with what is on record only; among its lines are
    those of other stations that end here, seen from here: `substation` is the other station, and a bus that stands
    elsewhere is written STATION:BUS. `study` holds rows by table with all columns; its zones are all zones in which a
    bus of the station lies.
    """

    substation: str
    name: NotRequired[str]
    also_known_as: NotRequired[str]
    district: NotRequired[str]
    owner: NotRequired[str]
    frequency: NotRequired[float]
    criticality: NotRequired[int]
    customers: NotRequired[int]
    attended: NotRequired[bool]
    recorded_on: NotRequired[str]
    latitude: NotRequired[float]
    longitude: NotRequired[float]
    status: NotRequired[str]
    inventory: dict[str, list[Row]]
    study: dict[str, list[Row]]
    assumptions: list[StandsIn]
    not_assessable: list[NotAssessable]
    left_out: list[LeftOut]


_STUDY = (
    *("zone", "zone_bus", "bus_fault", "bus_stress", "neutral", "ground_source", "neutral_duty"),
    *("grounding_transformer_duty", "relay_operation"),
)
_LIST_KINDS = ("references", "places")
_TEXT_KINDS = ("text", "key", "reference", "choice", "vector_group")
_BLOCKING = tuple(Blocking.__annotations__)
_STANDS_IN = tuple(StandsIn.__annotations__)
_LEFT_OUT = tuple(LeftOut.__annotations__)

# Each line as the stations at its ends see it.
_LINES = """(
    WITH ends AS (
        SELECT l.*,
               coalesce(f.target_substation, l.substation) AS from_station, coalesce(f.target, l.from_bus) AS from_tag,
               coalesce(t.target_substation, l.substation) AS to_station, coalesce(t.target, l.to_bus) AS to_tag
        FROM inventory.line l
        LEFT JOIN inventory.reference f
               ON f.substation = l.substation AND f.asset = l.line AND f.asset_kind = 'line' AND f.field = 'from_bus'
        LEFT JOIN inventory.reference t
               ON t.substation = l.substation AND t.asset = l.line AND t.asset_kind = 'line' AND t.field = 'to_bus'
    ), seen AS (
        SELECT DISTINCT substation, line, unnest([substation, from_station, to_station]) AS station FROM ends
    )
    SELECT s.station,
           e.* EXCLUDE (from_bus, to_bus, from_station, from_tag, to_station, to_tag),
           if(e.from_station = s.station, '', e.from_station || ':') || e.from_tag AS from_bus,
           if(e.to_station = s.station, '', e.to_station || ':') || e.to_tag AS to_bus
    FROM seen s JOIN ends e USING (substation, line)
)"""

_ZONES = "(SELECT DISTINCT p.substation AS station, z.* FROM study.zone z JOIN study.zone_bus p USING (zone))"

_SEEN_FROM_STATIONS = {("inventory", "line"): _LINES, ("study", "zone"): _ZONES}
# Zones are numbered in this order wherever a station is shown; other tables stand in that of their keys.
_ORDER = {("study", "zone"): ["nominal_kv DESC NULLS LAST", "zone"]}


def station_facts(store: Store, names: Collection[str] | None = None) -> Iterator[StationFacts]:
    """The stations by name; those named, or all of them."""
    read = _Reader(store, names)
    inventory = {table: read.table("inventory", table) for table in INVENTORY_TABLES if table != "substation"}
    study = {table: read.table("study", table) for table in _STUDY}
    assumptions = read.listed("study.assumption", _STANDS_IN)
    left_out = read.listed("study.left_out", _LEFT_OUT)
    unanswered = read.not_assessable()
    for row in read.stations():
        name = row["substation"]
        yield cast(
            StationFacts,
            {
                **row,
                "inventory": {table: take(name) for table, take in inventory.items()},
                "study": {table: take(name) for table, take in study.items()},
                "assumptions": assumptions(name),
                "not_assessable": unanswered(name),
                "left_out": left_out(name),
            },
        )


class _Reader:
    """Tables of the store in the order of stations, each handed out a station at a time."""

    def __init__(self, store: Store, names: Collection[str] | None) -> None:
        self._store = store
        self._where = "TRUE" if names is None else "%s IN (SELECT unnest(?::VARCHAR[]))"
        self._parameters = [] if names is None else [list(names)]

    def stations(self) -> Iterator[Row]:
        columns = INVENTORY_TABLES["substation"].columns()
        rows = self._rows("inventory.substation", "substation", columns.values(), ["substation"])
        for values in rows:
            yield _on_record(tuple(columns), values[1:])

    def table(self, stage: str, name: str) -> Callable[[str], list[Row]]:
        """Rows of a table of the inventory, without what is blank, or of the study, with all columns."""
        model = STAGES[stage][name]
        source = _SEEN_FROM_STATIONS.get((stage, name), f"{stage}.{name}")
        columns = model.columns()
        home = "station" if (stage, name) in _SEEN_FROM_STATIONS else "substation"
        keys = [column for column in model.key_columns() if column != home]
        key = [home, *_ORDER.get((stage, name), keys)]
        groups = Groups(self._rows(source, home, columns.values(), key))
        names = tuple(columns)
        if stage == "inventory":
            return lambda station: [_on_record(names, values) for values in groups.take(station)]
        return lambda station: [dict(zip(names, values, strict=True)) for values in groups.take(station)]

    def listed(self, source: str, names: Sequence[str]) -> Callable[[str], list[Any]]:
        """Rows of a table of texts, ordered by all of its columns."""
        rest = f"FROM {source} WHERE {self._wanted('substation')} ORDER BY substation, {', '.join(names)}"
        groups = Groups(stream_clean(self._store, ["substation", *names], names, rest, self._parameters))
        return lambda station: [dict(zip(names, values, strict=True)) for values in groups.take(station)]

    def not_assessable(self) -> Callable[[str], list[NotAssessable]]:
        """The checks that could not be made, each with the fields that it waits for."""
        asked = ["e.substation", "e.rule", "e.asset_kind", "e.asset", "e.item"]
        wanted = self._wanted("e.substation")
        told = [*asked, "r.title", "e.missing"]
        rest = f"""
            FROM audit.result e
            LEFT JOIN (SELECT rule, title FROM audit.rule WHERE problem IS NULL) r ON r.rule = e.rule
            WHERE e.outcome = 'not_assessable' AND {wanted} ORDER BY {", ".join(asked)}
        """
        checks = Groups(stream_clean(self._store, told, told[2:], rest, self._parameters))
        told = [*asked, "e.blocking_substation", "e.blocking_asset_kind", "e.blocking_asset", "e.field"]
        told += ["e.source_file", "e.sheet", "e.cell"]
        rest = f"FROM audit.missing_field e WHERE {wanted} ORDER BY {', '.join(told)}"
        fields = Groups(stream_clean(self._store, told, told[2:], rest, self._parameters))

        def take(station: str) -> list[NotAssessable]:
            blocking: dict[tuple[Any, ...], list[Blocking]] = {}
            for values in fields.take(station):
                field = cast(Blocking, dict(zip(_BLOCKING, values[4:], strict=True)))
                blocking.setdefault(values[:4], []).append(field)
            return [
                {
                    "rule": rule,
                    "title": title,
                    "asset_kind": kind,
                    "asset": asset,
                    "item": item,
                    "message": missing,
                    "fields": blocking.get((rule, kind, asset, item), []),
                }
                for rule, kind, asset, item, title, missing in checks.take(station)
            ]

        return take

    def _rows(self, source: str, home: str, columns: Iterable[Column], key: Sequence[str]) -> Iterator[tuple[Any, ...]]:
        """The station, then the columns."""
        wanted = [f"{home}::VARCHAR AS home", *(_read(column) for column in columns)]
        texts = [_as_text(column) for column in columns if _as_text(column)]
        rest = f"FROM {source} WHERE {self._wanted(home)} ORDER BY {', '.join(key)}"
        return stream_clean(self._store, wanted, texts, rest, self._parameters)

    def _wanted(self, column: str) -> str:
        return self._where.replace("%s", column)


def _on_record(names: Sequence[str], values: Sequence[Any]) -> Row:
    return {name: value for name, value in zip(names, values, strict=True) if value is not None}


def _read(column: Column) -> str:
    name = f'"{column.name}"'
    return f"{name}::VARCHAR AS {name}" if column.kind == "date" else name


def _as_text(column: Column) -> str:
    """SQL for the column's text; empty where it has none."""
    if column.kind in _LIST_KINDS:
        return f"array_to_string(\"{column.name}\", '')"
    return f'"{column.name}"' if column.kind in _TEXT_KINDS else ""
