"""Defects of how neutrals are grounded, and of what is said of it."""

import numpy as np
from generated_fleet.defects.register import changed, defect, one, strike, those
from generated_fleet.station import Rows


@defect("return-path/declared-grounding")
def declared_solid_behind_a_resistor(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The declaration of before the resistor was put in."""
    behind = {infeed["bus"] for infeed in rows.get("infeed", [])}
    buses = tuple(bus["bus"] for bus in rows["bus"] if bus["bus"] not in behind)
    bus = one(rows, rng, "bus", bus=buses, declared_grounding=("low_resistance", "high_resistance", "resonant"))
    return changed(rows, bus, declared_grounding="solid")


@defect("return-path/declared-behind-infeed")
def declared_otherwise_behind_an_infeed(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The declaration of another network, behind a supply that is grounded through a resistor elsewhere."""
    behind = tuple(infeed["bus"] for infeed in rows.get("infeed", []))
    bus = one(rows, rng, "bus", bus=behind, declared_grounding="low_resistance")
    return changed(rows, bus, declared_grounding=str(rng.choice(["effective", "high_resistance"])))


@defect("return-path/declared-grounding", return_path__ground_source="nothing grounds it, and now nobody says so")
def declared_resonant_where_nothing_grounds(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A coil that was planned and never built."""
    return changed(rows, one(rows, rng, "bus", declared_grounding="ungrounded"), declared_grounding="resonant")


@defect("return-path/ground-source")
def not_declared_ungrounded(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Nothing grounds the zone, and nobody says so."""
    return changed(rows, one(rows, rng, "bus", declared_grounding="ungrounded"), declared_grounding=None)


@defect(
    "return-path/device-without-neutral",
    return_path__neutral_treatment="the neutral that it does stand in is left without a device",
    neutral_devices__rated_voltage="it is taken for a device of the other side's voltage",
    neutral_devices__neutral_insulation="it is taken for a device of the other side's voltage",
    detection__reach="the relay at it sees nothing",
    record__blocking_fields="what waits for that neutral",
)
def device_at_the_delta(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A device recorded at the wrong winding."""
    for device in those(rows, "neutral_device", kind=("resistor", "solid"), winding="lv"):
        for transformer in those(rows, "transformer", transformer=device["connected_to"][0]):
            if transformer["vector_group"].startswith("D"):
                return changed(rows, device, winding="hv")
    return None


@defect("return-path/neutral-treatment", record__blocking_fields="what waits for that neutral")
def link_not_on_record(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Nobody has recorded the solid link."""
    return strike(rows, "neutral_device", one(rows, rng, "neutral_device", kind="solid", winding=("hv", "lv")))


@defect("return-path/generator-neutral", record__blocking_fields="what waits for that neutral")
def machine_neutral_not_on_record(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Nobody has recorded what stands in the neutral of a machine."""
    machine = one(rows, rng, "generator")
    if machine is None:
        return None
    device = next(d for d in rows["neutral_device"] if d["connected_to"] == [machine["generator"]])
    return strike(rows, "neutral_device", device)


@defect("return-path/source-outage")
def one_neutral_of_two_open(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Of two transformers in parallel the neutral of one only is grounded."""
    devices = those(rows, "neutral_device", kind="resistor", winding="lv", neutral_device=("NR1", "NR2"))
    if len(devices) != 2:
        return None
    device = devices[int(rng.integers(2))]
    strike(rows, "neutral_device", device)
    rows["neutral_device"].append(
        {name: device[name] for name in ("substation", "neutral_device", "connected_to", "winding")} | {"kind": "open"}
    )
    return rows


@defect("return-path/customary-method")
def solid_at_a_voltage_of_resistors(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A three-wire system of 12.47 kV, grounded solidly."""
    return changed(rows, one(rows, rng, "bus", neutral_wire="multigrounded"), neutral_wire="none")


@defect(
    "return-path/generator-fault-current",
    return_path__declared_grounding="its class is another",
    return_path__intended_current="the current is no longer limited",
    return_path__customary_method="solid at a voltage of resistors",
    return_path__source_outage="with the machine out nothing grounds what the transformer keeps live",
    arresters__needless_rating="the zone is now effectively grounded",
    detection__detector_pickup="the neutral is no longer displaced",
    bonding__strap_area="the fault current is many times what the straps were chosen for",
    mat__conductor_area="likewise",
)
def machines_on_the_mat(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Solid links in place of what stood in the neutrals of machines."""
    machines = {machine["generator"] for machine in rows.get("generator", [])}
    for device in rows["neutral_device"] if machines else []:
        if device["connected_to"][0] in machines:
            for name in set(device) - {"substation", "neutral_device", "connected_to"}:
                device[name] = None
            device["kind"] = "solid"
    return rows if machines else None


@defect("return-path/shield-wire-bonding")
def shield_wire_on_insulators(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The strap between shield wire and mat taken off after painting."""
    return changed(rows, one(rows, rng, "line", shield_wire_bonded_from=True), shield_wire_bonded_from=False)


@defect("return-path/four-wire-neutral")
def four_wires_behind_a_resistor(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Loads between phase and neutral where the neutral is not solid."""
    bus = one(rows, rng, "bus", declared_grounding=("low_resistance", "high_resistance"))
    return changed(rows, bus, neutral_wire="multigrounded")


@defect("return-path/intended-current")
def more_than_intended(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A limit of the first design; a second transformer was added since."""
    buses = [bus for bus in rows["bus"] if bus.get("ground_fault_limit")]
    if not buses:
        return None
    bus = buses[int(rng.integers(len(buses)))]
    return changed(rows, bus, ground_fault_limit=round(bus["ground_fault_limit"] * rng.uniform(0.15, 0.4), 1))


@defect(
    "return-path/mixed-grounding",
    return_path__declared_grounding="its class is another",
    return_path__intended_current="the current is no longer limited",
    return_path__customary_method="solid at a voltage of resistors",
    return_path__source_outage="with it out the zone is grounded otherwise",
)
def one_resistor_of_two_bridged(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A solid link in one neutral, a resistor in that of the parallel transformer."""
    devices = those(rows, "neutral_device", kind="resistor", winding="lv", neutral_device=("NR1", "NR2"))
    if len(devices) != 2:
        return None
    device = devices[int(rng.integers(2))]
    for name in set(device) - {"substation", "neutral_device", "connected_to", "winding"}:
        device[name] = None
    return changed(rows, device, kind="solid")
