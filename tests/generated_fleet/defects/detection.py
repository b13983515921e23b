"""Defects of ground relays, detectors and voltage transformers."""

import numpy as np
from generated_fleet.defects.register import Row, bus_of, changed, defect, one, scaled, strike, those
from generated_fleet.station import Rows


def neutral_relay(rows: Rows, rng: np.random.Generator, kind: str | tuple[str, ...]) -> tuple[Row, Row] | None:
    """A device of this kind and the current relay in its neutral."""
    device = one(rows, rng, "neutral_device", kind=kind)
    relay = (
        None if device is None else one(rows, rng, "ground_relay", measures=device["neutral_device"], function="51G")
    )
    return None if device is None or relay is None else (device, relay)


def charging_a(rows: Rows, line: Row) -> float:
    """Charging current of a line at 50 Hz."""
    kv = bus_of(rows, line["from_bus"])["nominal_voltage"]
    return float(3 * 2 * np.pi * 50 * line["c0"] * line["length"] * 1e-9 * kv * 1e3 / 3**0.5)


@defect("detection/neutral-relay")
def no_relay_at_the_neutral(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The relay in a grounded neutral is not there, and nothing else measures its bus."""
    device = one(rows, rng, "neutral_device", kind=("solid", "resistor", "reactor", "arc_suppression_coil"))
    if device is None:
        return None
    serves = device["connected_to"]
    near = {t[f"{device['winding']}_bus"] for t in those(rows, "transformer") if t["transformer"] in serves}
    near |= {g["bus"] for g in those(rows, "generator") if g["generator"] in serves}
    near |= {g["bus"] for g in those(rows, "grounding_transformer") if g["grounding_transformer"] in serves}
    near |= {vt["instrument_transformer"] for vt in those(rows, "instrument_transformer") if vt["bus"] in near}
    if any(relay["measures"] in near for relay in rows["ground_relay"]):
        return None
    return strike(rows, "ground_relay", one(rows, rng, "ground_relay", measures=device["neutral_device"]))


@defect(
    "detection/reach",
    detection__stator_coverage="in the neutral of a machine it guards the stator as well",
)
def pickup_above_reach(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Pickup near, or above, the current that the resistor passes."""
    found = neutral_relay(rows, rng, "resistor")
    if found is None:
        return None
    return changed(rows, found[1], pickup=round(found[0]["rated_current"] * rng.uniform(0.75, 1.3), 2))


@defect("detection/reach", detection__coordination_interval="its backup operates alone")
def feeder_pickup_in_the_wrong_decade(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A pickup written ten times too high, behind a resistor."""
    limited = {b["bus"] for b in those(rows, "bus", declared_grounding="low_resistance")}
    lines = tuple(line["line"] for line in rows["line"] if line["from_bus"] in limited)
    relay = one(rows, rng, "ground_relay", function="51N", measures=lines)
    return scaled(rows, relay, "pickup", 10)


@defect("detection/voltage-reach")
def voltage_pickup_near_the_residual_voltage(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The pickup of a relay at a bus, taken for a line-to-line voltage."""
    buses = tuple(bus["bus"] for bus in rows["bus"])
    relay = one(rows, rng, "ground_relay", function="59N", measures=buses)
    return scaled(rows, relay, "pickup", float(rng.uniform(4.0, 6.0)))


@defect("detection/ungrounded-zone")
def no_detection_where_nothing_grounds(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The zone runs on through a ground fault, and nothing tells of one."""
    zone = one(rows, rng, "bus", declared_grounding="ungrounded")
    if zone is None:
        return None
    for vt in those(rows, "instrument_transformer", bus=zone["bus"], kind="vt"):
        strike(rows, "instrument_transformer", vt)
    rows["ground_detector"] = [d for d in rows["ground_detector"] if d["bus"] != zone["bus"]]
    return rows


@defect("detection/coordination-interval")
def backup_as_fast_as_the_feeder(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The relay in the neutral waits no longer than that of the feeder."""
    for relay in rows["ground_relay"]:
        if relay.get("backs_up"):
            return changed(rows, relay, definite_time=round(rng.uniform(0.3, 0.45), 2))
    return None


@defect("detection/charging-margin", detection__neutral_ct_ratio="too low for its CT as well")
def pickup_below_the_feeders_own_charging_current(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A long cable feeder whose relay trips for faults elsewhere."""
    for relay in those(rows, "ground_relay", function="51N"):
        for line in those(rows, "line", line=relay["measures"], construction="cable"):
            if bus_of(rows, line["from_bus"])["declared_grounding"] != "low_resistance":
                continue  # where the neutral is displaced by less than V_LN, less is charged
            return changed(rows, relay, pickup=round(charging_a(rows, line) * rng.uniform(0.3, 0.7), 2))
    return None


@defect("detection/neutral-ct-ratio")
def ct_of_a_feeder_in_the_neutral(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A CT whose ratio suits a feeder of another kind."""
    found = neutral_relay(rows, rng, ("resistor", "solid", "reactor"))
    if found is None:
        return None
    return changed(rows, found[1], ct_primary=float(round(found[1]["pickup"] * rng.uniform(150, 400), -1)))


@defect("detection/stator-coverage")
def pickup_that_leaves_the_stator_open(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A setting that sees faults near the terminals only."""
    machine = one(rows, rng, "generator")
    if machine is None:
        return None
    device = next(d for d in rows["neutral_device"] if d["connected_to"] == [machine["generator"]])
    relay = one(rows, rng, "ground_relay", measures=device["neutral_device"], function=("51G", "59G"))
    if relay["function"] == "59G":
        rows["ground_relay"] = [r for r in rows["ground_relay"] if not r["function"].startswith("27")]
        rows["inspection"] = [i for i in rows["inspection"] if i["asset"] != "R TN1"]
        return changed(rows, relay, pickup=round(machine["rated_voltage"] * 1e3 / 3**0.5 * rng.uniform(0.2, 0.5)))
    return changed(rows, relay, pickup=round(device["rated_current"] * rng.uniform(0.35, 0.5), 1))


@defect("detection/detector-pickup")
def detector_set_above_the_fault(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A pickup in volts of one phase where the broken delta gives three."""
    detector = one(rows, rng, "ground_detector")
    if detector is None:
        return None
    kv = bus_of(rows, detector["bus"])["nominal_voltage"]
    relay = those(rows, "ground_relay", ground_relay=detector["relay"])[0]
    return changed(rows, relay, pickup=round(3 * kv * 1e3 / 3**0.5 * rng.uniform(0.7, 1.2)))


@defect("detection/voltage-factor", detection__run_on_time="what bears the fault least sets for how long it may stand")
def voltage_factor_for_a_solid_system(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A factor of 1.2 where the healthy phases rise to line-to-line voltage."""
    risen = ("low_resistance", "high_resistance", "resonant", "ungrounded")
    buses = tuple(b["bus"] for b in those(rows, "bus", declared_grounding=risen))
    vt = one(rows, rng, "instrument_transformer", kind="vt", bus=buses)
    return changed(rows, vt, voltage_factor=1.2, voltage_factor_time=30.0)


@defect("detection/broken-delta-loading")
def no_resistor_across_the_broken_delta(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Voltage transformers of a small ungrounded zone without damping."""
    buses = tuple(b["bus"] for b in those(rows, "bus", declared_grounding="ungrounded"))
    return changed(rows, one(rows, rng, "instrument_transformer", kind="vt", bus=buses), damping_resistor=None)


@defect("detection/alarm-only")
def relay_left_on_alarm(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """After commissioning nobody connected the trip."""
    limited = {b["bus"] for b in those(rows, "bus", declared_grounding="low_resistance")}
    if not limited:
        return None
    for relay in rows["ground_relay"]:
        relay |= {"action": "alarm", "breaker_time": None}
    return rows


@defect("detection/run-on-time", detection__voltage_factor="the factor is for half a minute only")
def voltage_transformer_for_half_a_minute(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A zone that runs on with voltage transformers for thirty seconds."""
    buses = tuple(b["bus"] for b in those(rows, "bus", continuity_required=True))
    vt = one(rows, rng, "instrument_transformer", kind="vt", bus=buses)
    return changed(rows, vt, voltage_factor_time=30.0)


@defect("detection/unbalance-margin", detection__neutral_ct_ratio="too low for the CT as well")
def pickup_below_the_standing_current(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A relay in the neutral that picks up for the unbalance of the lines."""
    found = neutral_relay(rows, rng, "resistor")
    if found is None:
        return None
    kv = found[0]["rated_voltage"] / 1.03 * 3**0.5
    feeders = {
        b["bus"]: those(rows, "line", from_bus=b["bus"])
        for b in rows["bus"]
        if abs(b["nominal_voltage"] / kv - 1) < 0.05
    }
    charging = min(max(charging_a(rows, line) for line in lines) for lines in feeders.values() if lines)
    return changed(rows, found[1], pickup=float(f"{charging * 0.005:.2g}"))


@defect("detection/outage-reach")
def set_with_all_sources_in_service(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A feeder relay that sees the smallest fault only while both neutrals of the zone are in service."""
    resistors = those(rows, "neutral_device", kind="resistor", neutral_device=("NR1", "NR2"))
    if len(resistors) == 2:
        alone = resistors[0]["rated_current"] / 1.06
        low, high = alone, 2 * alone * 0.9
    elif len(those(rows, "grounding_transformer")) == 2:
        supply, bank = rows["infeed"][0], rows["grounding_transformer"][0]
        kv = bank["rated_voltage"]
        x1 = kv**2 / supply["fault_level_3ph_min"]
        low, high = (3 * kv * 1e3 / 3**0.5 / (2 * x1 + bank["z0"] / count) for count in (1, 2))
    else:
        return None
    relay = one(rows, rng, "ground_relay", function="51N", measures=("F1 B11A", "F2 B11B", "F1 B34", "F2 B34"))
    return changed(rows, relay, pickup=round((low + high) / 2 / 1.5, 1))


@defect("detection/feeder-reach", detection__reach="it is above the whole zone's charging current as well")
def set_as_in_a_grounded_zone(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A feeder relay of an ungrounded zone, set for a current that nothing sends."""
    buses = tuple(b["bus"] for b in those(rows, "bus", declared_grounding="ungrounded"))
    lines = tuple(line["line"] for line in those(rows, "line", from_bus=buses))
    relay = one(rows, rng, "ground_relay", function="51N", measures=lines)
    return scaled(rows, relay, "pickup", rng.uniform(4, 10))
