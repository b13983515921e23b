"""What stands where in a station: buses, what joins them, what hangs on them, neutrals, relays, findings."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from groundcheck.report.marks import SEVERITIES, Mark, of_finding
from groundcheck.schema.vector_group import parse_vector_group

Row = Mapping[str, Any]

MEASURED = (
    "neutral_device",
    "grounding_transformer",
    "instrument_transformer",
    "line",
    "generator",
    "transformer",
    "bus",
)
"""Where a relay's `measures` is looked up, the most telling first: a tag may serve several kinds."""


class Findings:
    """Open and waived findings of a station, by asset."""

    def __init__(self, station: str, findings: Iterable[Row]) -> None:
        self.by_asset: dict[tuple[str, str], list[Row]] = {}
        for finding in findings:
            if finding.get("substation") == station:
                key = (finding.get("asset_kind") or "", finding.get("asset") or "")
                self.by_asset.setdefault(key, []).append(finding)

    def mark(self, kind: str, tag: str) -> Mark | None:
        """The mark of the worst open finding, else that of waived ones."""
        rows = self.by_asset.get((kind, tag))
        return worst_mark(rows) if rows else None

    def words(self, kind: str, tag: str) -> str | None:
        """'2 open findings, worst high'."""
        rows = self.by_asset.get((kind, tag))
        return findings_in_words(rows) if rows else None


def worst_mark(rows: Sequence[Row]) -> Mark:
    """Of some findings."""
    order = list(SEVERITIES)
    marks = [of_finding(row.get("severity") or "", row.get("status")) for row in rows]
    return min(marks, key=lambda mark: order.index(mark.key) if mark.key in order else len(order))


def findings_in_words(rows: Sequence[Row]) -> str:
    """How many are open, the worst of them, how many are waived."""
    waived = sum(row.get("status") == "waived" for row in rows)
    is_open = len(rows) - waived
    said = [f"{is_open} open finding{'' if is_open == 1 else 's'}, worst {worst_mark(rows).word}"] if is_open else []
    return "; ".join([*said, *([f"{waived} waived"] if waived else [])])


@dataclass
class Zone:
    """A galvanic zone of the station; `position` numbers it in this drawing."""

    name: str
    position: int
    grounding_class: str | None


@dataclass
class Bus:
    """A bus, or a place that a record names and no record describes (`note` says so)."""

    key: str
    tag: str
    row: Row
    kv: float | None
    zone: Zone | None = None
    fault: Row | None = None
    note: str | None = None
    tier: int = 0
    rank: int = 0


@dataclass
class Device:
    """What stands in a neutral; where several neutrals share it, it is drawn at the first."""

    row: Row
    tag: str
    first: bool
    others: tuple[str, ...] = ()


@dataclass
class Neutral:
    """A neutral: brought out (None: not known), what stands in it, what the study took it for."""

    brought_out: bool | None
    devices: list[Device] = field(default_factory=list)
    taken_as: str | None = None


@dataclass
class Winding:
    """One winding of a transformer and its neutral."""

    name: str
    bus: Bus | None
    connection: str | None
    kv: float | None
    neutral: Neutral


@dataclass
class Unit:
    """A transformer: upper winding, lower winding, third winding."""

    row: Row
    upper: Winding
    lower: Winding
    third: Winding | None
    auto: bool


@dataclass
class Join:
    """A switch, or a line between two buses of this station."""

    kind: str
    row: Row
    a: Bus
    b: Bus


@dataclass
class Model:
    """A station as it is drawn."""

    code: str
    name: str
    findings: Findings
    zones: list[Zone]
    buses: list[Bus]
    units: list[Unit]
    joins: list[Join]
    hanging: dict[str, list[tuple[str, Row]]]  # by key of a bus: kind and row
    neutrals: dict[tuple[str, str], Neutral]  # of generators and grounding transformers
    relays: dict[tuple[str, str], list[Row]]
    detectors: dict[str, list[Row]]  # by tag of a voltage transformer
    loose: list[tuple[str, Row, str]]
    grids: list[Row]
    not_in_service: list[tuple[str, str]]


def read_model(station: Mapping[str, Any], findings: Iterable[Row]) -> Model:
    """Whatever is on record, placed as far as the record says where."""
    return _Reader(station, findings).model


class _Reader:
    """Looks references up as they come; a place that no record describes becomes a bus with a note."""

    def __init__(self, station: Mapping[str, Any], findings: Iterable[Row]) -> None:
        self.code = str(station.get("substation") or "")
        self.inventory: Mapping[str, list[Row]] = station.get("inventory") or {}
        self.study: Mapping[str, list[Row]] = station.get("study") or {}
        self.gone: list[tuple[str, str]] = []
        self.buses: dict[str, Bus] = {}
        self.unplaced = 0
        zones = self._zones()
        for row in self._rows("bus"):
            tag = str(row["bus"])
            self.buses[tag] = Bus(tag, tag, row, row.get("nominal_voltage"))
        self._study_of_buses(zones)
        self.devices = self._devices()
        units = [self._unit(row) for row in self._rows("transformer")]
        neutrals = {}
        for kind in ("generator", "grounding_transformer"):
            for row in self._rows(kind):
                tag = str(row[kind])
                brought = kind != "generator" or {"wye": True, "delta": False}.get(row.get("winding") or "")
                neutrals[kind, tag] = self._neutral(kind, tag, None, brought)
        joins = [
            Join("switch", row, self._bus(row.get("bus_a")), self._bus(row.get("bus_b")))
            for row in self._rows("switch")
        ]
        hanging: dict[str, list[tuple[str, Row]]] = {}
        for row in self._rows("line"):
            self._line(row, joins, hanging)
        for kind in ("infeed", "generator", "grounding_transformer", "instrument_transformer", "arrester"):
            for row in self._rows(kind):
                hanging.setdefault(self._bus(row.get("bus")).key, []).append((kind, row))
        relays, loose = self._relays(hanging)
        detectors = self._detectors(hanging)
        loose += [
            ("neutral_device", device["row"], "connected to nothing on record")
            for device in self.devices.values()
            if not device["drawn"]
        ]
        self._guess_voltages(units, joins)
        self.model = Model(
            code=self.code,
            name=str(station.get("name") or ""),
            findings=Findings(self.code, findings),
            zones=sorted(zones.values(), key=lambda zone: zone.position),
            buses=list(self.buses.values()),
            units=units,
            joins=joins,
            hanging=hanging,
            neutrals=neutrals,
            relays=relays,
            detectors=detectors,
            loose=loose,
            grids=list(self._rows("ground_grid")),
            not_in_service=self.gone,
        )

    def _rows(self, table: str) -> list[Row]:
        rows = []
        for row in self.inventory.get(table) or ():
            if (row.get("status") or "in service") == "in service":
                rows.append(row)
            elif (name := (table, str(row.get(table)))) not in self.gone:
                self.gone.append(name)
        return rows

    def _zones(self) -> dict[str, Zone]:
        rows = sorted(
            self.study.get("zone") or (), key=lambda row: (-(row.get("nominal_kv") or 0.0), str(row.get("zone")))
        )
        return {
            str(row["zone"]): Zone(str(row["zone"]), position, row.get("grounding_class"))
            for position, row in enumerate(rows)
        }

    def _study_of_buses(self, zones: dict[str, Zone]) -> None:
        for row in self.study.get("zone_bus") or ():
            if row.get("substation") == self.code and (bus := self.buses.get(str(row.get("bus")))):
                bus.zone = zones.get(str(row.get("zone")))
        for row in self.study.get("bus_fault") or ():
            here = row.get("condition") == "max" and row.get("substation") == self.code
            if here and (bus := self.buses.get(str(row.get("bus")))):
                bus.fault = row

    def _bus(self, reference: object, kv: float | None = None) -> Bus:
        """The bus of that name; else a place with a note."""
        if reference is None or reference == "":
            self.unplaced += 1
            key = f"?{self.unplaced}"
            self.buses[key] = Bus(key, "bus?", {}, kv, note="bus not on record")
            return self.buses[key]
        name = self._local(str(reference))
        if name not in self.buses:
            elsewhere = ":" in name
            self.buses[name] = Bus(name, name, {}, kv, note="in another station" if elsewhere else "not on record")
        return self.buses[name]

    def _local(self, reference: str) -> str:
        if reference in self.buses:
            return reference
        return reference.removeprefix(self.code + ":")

    def _devices(self) -> dict[str, dict[str, Any]]:
        return {
            str(row["neutral_device"]): {"row": row, "to": [str(each) for each in _several(row)], "drawn": False}
            for row in self._rows("neutral_device")
        }

    def _neutral(self, kind: str, tag: str, winding: str | None, brought_out: bool | None) -> Neutral:
        """Devices whose record names this neutral, or that the study connects to it."""
        studied = [
            row
            for row in self.study.get("neutral") or ()
            if row.get("asset") == tag
            and row.get("asset_kind") == kind
            and row.get("substation") == self.code
            and (winding is None or row.get("winding") == winding)
        ]
        neutral = Neutral(brought_out, taken_as=next((r["treatment"] for r in studied if r.get("treatment")), None))
        named = {
            str(row["neutral_device"])
            for row in studied
            if row.get("neutral_device") and row.get("device_substation") in (None, self.code)
        }
        for name, device in self.devices.items():
            to = [self._local(each) for each in device["to"]]
            own = device["row"].get("winding")
            if (
                name in named
                or (tag in to and winding is not None and own == winding)
                or (tag in to and winding is None)
            ):
                others = tuple(each for each in to if each != tag)
                neutral.devices.append(Device(device["row"], name, not device["drawn"], others))
                device["drawn"] = True
        for row in studied:
            if row.get("neutral_device") and row.get("device_substation") not in (None, self.code):
                name = f"{row['device_substation']}:{row['neutral_device']}"
                neutral.devices.append(Device({}, name, False))
        return neutral

    def _unit(self, row: Row) -> Unit:
        tag = str(row["transformer"])
        try:
            group = parse_vector_group(str(row.get("vector_group") or ""))
        except ValueError:
            group = None
        connections = {name: group.connection(name) if group else None for name in ("hv", "lv", "tv")}
        has_third = row.get("tv_bus") is not None or connections["tv"] is not None or row.get("tv_voltage") is not None
        windings = {}
        for name in ("hv", "lv", "tv") if has_third else ("hv", "lv"):
            connection = connections[name]
            brought = None if connection is None else connection in ("YN", "ZN", "A")
            kv = row.get(f"{name}_voltage")
            reference = row.get(f"{name}_bus")
            bus = None if name == "tv" and reference is None else self._bus(reference, kv)
            windings[name] = Winding(name, bus, connection, kv, self._neutral("transformer", tag, name, brought))
        self._adopt(tag, windings)
        hv, lv = windings["hv"], windings["lv"]
        flipped = lv.bus is not None and hv.bus is not None and (lv.bus.kv or 0) > (hv.bus.kv or 0) > 0
        return Unit(row, *((lv, hv) if flipped else (hv, lv)), windings.get("tv"), connections["lv"] == "A")

    def _adopt(self, tag: str, windings: dict[str, Winding]) -> None:
        """A device that names the transformer and no winding that it has stands at its likeliest neutral."""
        for name, device in self.devices.items():
            if device["drawn"] and any(d.tag == name for w in windings.values() for d in w.neutral.devices):
                continue
            to = [self._local(each) for each in device["to"]]
            if tag not in to or (device["row"].get("winding") in windings and device["drawn"]):
                continue
            out = [w for w in windings.values() if w.neutral.brought_out] or [windings["lv"]]
            others = tuple(each for each in to if each != tag)
            out[-1].neutral.devices.append(Device(device["row"], name, not device["drawn"], others))
            device["drawn"] = True

    def _line(self, row: Row, joins: list[Join], hanging: dict[str, list[tuple[str, Row]]]) -> None:
        """Between two buses here, or out of one of them."""
        ends = [None if row.get(end) is None else self._local(str(row[end])) for end in ("from_bus", "to_bus")]
        here = [end for end in ends if end in self.buses and not self.buses[end].note]
        if len(here) == 2 and row.get("substation", self.code) == self.code:
            joins.append(Join("line", row, self.buses[here[0]], self.buses[here[1]]))
        else:
            bus = self.buses[here[0]] if here else self._bus(ends[0])
            far = row.get("to_bus") if ends[0] == bus.key else row.get("from_bus")
            hanging.setdefault(bus.key, []).append(("line", {**row, "far": far}))

    def _relays(
        self, hanging: dict[str, list[tuple[str, Row]]]
    ) -> tuple[dict[tuple[str, str], list[Row]], list[tuple[str, Row, str]]]:
        tags = {kind: {str(row.get(kind)) for row in self._rows(kind)} for kind in MEASURED}
        vts = {
            str(row["relay"]): str(row["instrument_transformer"])
            for row in self._rows("ground_detector")
            if row.get("relay") and str(row.get("instrument_transformer")) in tags["instrument_transformer"]
        }
        placed: dict[tuple[str, str], list[Row]] = {}
        loose: list[tuple[str, Row, str]] = []
        for row in self._rows("ground_relay"):
            tag = str(row["ground_relay"])
            what = self._local(str(row.get("measures") or ""))
            kind = next((kind for kind in MEASURED if what in tags[kind]), None)
            if tag in vts and kind in (None, "bus"):
                kind, what = "instrument_transformer", vts[tag]
            if kind is None:
                why = f"measures {what}, not on record" if what else "what it measures is not on record"
                loose.append(("ground_relay", row, why))
            else:
                placed.setdefault((kind, what), []).append(row)
        return placed, loose

    def _detectors(self, hanging: dict[str, list[tuple[str, Row]]]) -> dict[str, list[Row]]:
        vts = {str(row["instrument_transformer"]) for row in self._rows("instrument_transformer")}
        found: dict[str, list[Row]] = {}
        for row in self._rows("ground_detector"):
            vt = str(row.get("instrument_transformer"))
            if vt in vts:
                found.setdefault(vt, []).append(row)
            else:
                hanging.setdefault(self._bus(row.get("bus")).key, []).append(("ground_detector", row))
        return found

    def _guess_voltages(self, units: list[Unit], joins: list[Join]) -> None:
        """To place a bus without voltage on record: that of the winding at it, or of what is joined to it."""
        for unit in units:
            for winding in (unit.upper, unit.lower, unit.third):
                if winding and winding.bus and winding.bus.kv is None:
                    winding.bus.kv = winding.kv
        for _ in range(3):
            for join in joins:
                if join.a.kv is None or join.b.kv is None:
                    join.a.kv = join.b.kv = join.a.kv or join.b.kv


def _several(row: Row) -> Sequence[object]:
    to = row.get("connected_to")
    return [] if to is None else [to] if isinstance(to, str) else list(to)
