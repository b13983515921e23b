"""The tables of a station's page: its zones bus by bus, duties of its neutral devices against their ratings."""

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from groundcheck.audit.wording import in_digits
from groundcheck.report.facts import StationFacts
from groundcheck.report.field_names import kind_in_words
from groundcheck.report.marks import zone_tint

UNKNOWN = "not known"
Row = Mapping[str, Any]

_ZONE_HEADS = (
    *("zone", "bus", "nominal (kV)", "grounding class", "line-to-ground fault, largest (kA)", "smallest (kA)"),
    *(
        "three-phase fault (kA)",
        "healthy phases during the fault (kV)",
        "neutral shift (kV)",
        "X0/X1",
        "cleared in (s)",
    ),
)
_DEVICE_HEADS = (
    *("device", "kind", "stands at", "resistance (ohm)", "reactance (ohm)", "current rated (A)", "current duty (A)"),
    *("voltage rated (kV)", "voltage duty (kV)", "time rated (s)", "time duty (s)", "worst fault at"),
)
_TRANSFORMER_HEADS = (
    *("grounding transformer", "connection", "bus", "Z0 (ohm/phase)", "neutral current rated (A)"),
    *("neutral current duty (A)", "time rated (s)", "time duty (s)"),
)


def station_tables(station: StationFacts) -> list[dict[str, Any]]:
    """Caption, heads, rows of text, and which columns are numbers; a table without rows is left out."""
    tables = (
        ("Galvanic zones, bus by bus", _ZONE_HEADS, _zone_rows(station), (0, 1, 3)),
        ("Neutral devices, duty against rating", _DEVICE_HEADS, _device_rows(station), (0, 1, 2, 11)),
        ("Grounding transformers, duty against rating", _TRANSFORMER_HEADS, _transformer_rows(station), (0, 1, 2)),
    )
    return [
        {"caption": caption, "heads": heads, "rows": rows, "words": words}
        for caption, heads, rows, words in tables
        if rows
    ]


def zone_names(station: StationFacts) -> dict[str, str]:
    """The short name under which drawing, pictures and tables show each zone: Z1, Z2."""
    zones = dict.fromkeys(row["zone"] for row in station["study"].get("zone", ()))
    return {zone: zone_tint(place).label for place, zone in enumerate(zones)}


def _zone_rows(station: StationFacts) -> list[list[str]]:
    study = station["study"]
    zones = {row["zone"]: row for row in study.get("zone", ())}
    names = zone_names(station)
    faults = {(row["bus"], row.get("condition")): row for row in study.get("bus_fault", ())}
    rows = []
    for place in _own(study.get("zone_bus", ()), station):
        zone = zones.get(place["zone"], {})
        most, least = (faults.get((place["bus"], condition), {}) for condition in ("max", "min"))
        rows.append(
            [
                *(names.get(place["zone"], ""), str(place["bus"]), _number(zone, "nominal_kv")),
                *((zone.get("grounding_class") or UNKNOWN).replace("_", " "), _number(most, "line_to_ground_ka")),
                *(_number(least, "line_to_ground_ka"), _number(most, "three_phase_ka")),
                *(_number(most, "healthy_phase_kv"), _number(most, "neutral_shift_kv")),
                *(_number(most, "x0_over_x1", "no path"), _number(zone, "clearing_time_s")),
            ]
        )
    order = {name: place for place, name in enumerate(names.values())}
    return sorted(rows, key=lambda row: (order.get(row[0], math.inf), row[1]))


def _device_rows(station: StationFacts) -> list[list[str]]:
    duties = {row["neutral_device"]: row for row in _own(station["study"].get("neutral_duty", ()), station)}
    rows = []
    for device in station["inventory"].get("neutral_device", ()):
        duty = duties.get(device["neutral_device"], {})
        rows.append(
            [
                *(str(device["neutral_device"]), kind_in_words(device.get("kind")), _stands_at(device)),
                *(_number(device, "resistance"), _number(device, "reactance")),
                *(_number(device, "rated_current"), _number(duty, "current_a")),
                *(_number(device, "rated_voltage"), _number(duty, "voltage_kv")),
                *(
                    _number(device, "rated_time", "continuous"),
                    _number(duty, "duration_s"),
                    _fault_place(duty, station),
                ),
            ]
        )
    return rows


def _transformer_rows(station: StationFacts) -> list[list[str]]:
    key = "grounding_transformer"
    duties = {row[key]: row for row in _own(station["study"].get("grounding_transformer_duty", ()), station)}
    rows = []
    for each in station["inventory"].get(key, ()):
        duty = duties.get(each[key], {})
        rows.append(
            [
                *(str(each[key]), (each.get("connection") or "").replace("_", "-"), str(each.get("bus") or "")),
                *(_number(each, "z0"), _number(each, "rated_neutral_current"), _number(duty, "current_a")),
                *(_number(each, "rated_time", "continuous"), _number(duty, "duration_s")),
            ]
        )
    return rows


def _own(rows: Iterable[Row], station: StationFacts) -> Sequence[Row]:
    """The rows of this station; a zone that reaches others has rows there too."""
    return [row for row in rows if row.get("substation", station["substation"]) == station["substation"]]


def _stands_at(device: Row) -> str:
    held = device.get("connected_to")
    told = ", ".join(str(each) for each in held) if isinstance(held, list | tuple) else str(held or "")
    return f"{told}, {device['winding']} winding" if told and device.get("winding") else told


def _fault_place(duty: Row, station: StationFacts) -> str:
    bus = duty.get("fault_bus")
    if not bus:
        return ""
    where = duty.get("fault_substation")
    return str(bus) if where in (None, station["substation"]) else f"{where}:{bus}"


def _number(row: Row, column: str, without_limit: str = "without limit") -> str:
    value = row.get(column)
    if isinstance(value, float) and math.isinf(value):
        return without_limit
    return in_digits(value) or UNKNOWN
