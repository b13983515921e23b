"""What stands where in a station, read from its record and its study."""

from collections.abc import Iterable, Mapping
from typing import Any

from groundcheck.report.one_line.devices import Devices
from groundcheck.report.one_line.findings import Findings, Row
from groundcheck.report.one_line.model import Bus, Join, Model, Unit, Winding, Zone
from groundcheck.report.one_line.relays import place_relays
from groundcheck.schema.vector_group import parse_vector_group


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
        self.devices = Devices(self._rows("neutral_device"), self.study.get("neutral") or (), self.code, self._local)
        units = [self._unit(row) for row in self._rows("transformer")]
        neutrals = {}
        for kind in ("generator", "grounding_transformer"):
            for row in self._rows(kind):
                tag = str(row[kind])
                brought = kind != "generator" or {"wye": True, "delta": False}.get(row.get("winding") or "")
                neutrals[kind, tag] = self.devices.neutral(kind, tag, None, brought)
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
        relays, loose = place_relays(self._rows, self._local)
        detectors = self._detectors(hanging)
        loose += [("neutral_device", row, "connected to nothing on record") for row in self.devices.left()]
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
        """Numbered in the order of the study, as tables and phasor pictures beside the drawing number them."""
        rows = {str(row["zone"]): row for row in self.study.get("zone") or ()}
        return {
            name: Zone(name, position, row.get("grounding_class")) for position, (name, row) in enumerate(rows.items())
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
            windings[name] = Winding(name, bus, connection, kv, self.devices.neutral("transformer", tag, name, brought))
        self.devices.adopt(tag, windings)
        hv, lv = windings["hv"], windings["lv"]
        flipped = lv.bus is not None and hv.bus is not None and (lv.bus.kv or 0) > (hv.bus.kv or 0) > 0
        return Unit(row, *((lv, hv) if flipped else (hv, lv)), windings.get("tv"), connections["lv"] == "A")

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
