"""What feeds a zone, what grounds it, and what its capacitance is: as rows that an outage may take out."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.context import Study
from groundcheck.study.matching import matches
from groundcheck.study.networks.capacitance import zone_voltage
from groundcheck.study.networks.solved_networks import Networks
from groundcheck.study.networks.supply import unfed_buses
from groundcheck.study.networks.zones import Topology
from groundcheck.study.outages.cut_off import Layout, in_service, numbers, zones_of_nodes
from groundcheck.study.outages.listed import asset_code

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


def supplies(study: Study) -> pd.DataFrame:
    """Infeeds and generators; where nothing on record feeds a network, the buses at which its supply is asked for."""
    zone = study.topology.zone
    rows = []
    for kind, bus in (("infeed", study.infeeds.bus), ("generator", study.generators.bus)):
        row = np.flatnonzero(bus >= 0)
        rows.append(pd.DataFrame({"asset": asset_code(kind, row), "zone": zone[bus[row]]}))
    unfed = unfed_buses(study.records, study.topology, study.solution)
    rows.append(pd.DataFrame({"asset": -1, "zone": zone[unfed]}))
    return pd.concat(rows, ignore_index=True).assign(group=-1)


def grounds(study: Study) -> pd.DataFrame:
    """What grounds a zone by itself, not by passing on what grounds another: asset, group, zone, definite, coil."""
    zone, points = zones_of_nodes(study), study.neutrals.points
    none = np.zeros(0, dtype=np.int64)
    found = study.zero.sources
    point, node = (np.concatenate([none, *(each[i] for each in found)]) for i in (0, 1))
    definite = np.concatenate([none, *(np.full(each[0].size, each[2]) for each in found)]).astype(bool)
    kind, row, group, treatment = (
        points[name].to_numpy()[point] for name in ("asset_kind", "row", "group", "treatment")
    )  # fmt: skip
    own = pd.DataFrame(
        {
            "asset": asset_code(kind.astype(object), row), "group": group, "zone": zone[node], "definite": definite,
            "coil": (treatment.astype(object) == "arc_suppression_coil") & definite,
        }
    )  # fmt: skip
    infeeds = study.sources[study.sources["kind"] == "infeed"]
    code = asset_code("infeed", infeeds["row"].to_numpy(dtype=np.int64))
    fed = infeeds[["zone", "definite"]].assign(asset=code, group=-1, coil=False)
    undecided = np.flatnonzero(study.topology.undecided)
    switches = pd.DataFrame({"asset": -1, "group": -1, "zone": undecided, "definite": False, "coil": False})
    return pd.concat([own, fed, switches], ignore_index=True)


def capacitances(networks: Networks, topology: Topology) -> pd.DataFrame:
    """Lines and machines of each zone with their susceptance, NaN where not on record: asset, zone, siemens."""
    zone = topology.zone
    line = networks.records.bus_of("line", "from_bus")
    parts = [(np.full(line.size, -1, dtype=np.int64), line, networks.lines.susceptance)]
    machine = networks.generators.bus
    parts.append((asset_code("generator", np.arange(machine.size)), machine, networks.capacitance.machine))
    rows = [
        pd.DataFrame({"asset": asset[bus >= 0], "zone": zone[bus[bus >= 0]], "siemens": y[bus >= 0]})
        for asset, bus, y in parts
    ]
    return pd.concat(rows, ignore_index=True).assign(group=-1)


def charging_left(networks: Networks, topology: Topology, layout: Layout) -> Floats:
    """Charging current of each row's zone with the outage; NaN where not on record in full, or no line is."""
    zone, charged = numbers(layout.rows, "zone"), capacitances(networks, topology)
    kv = zone_voltage(networks.records, topology)[zone]
    place, source = matches(zone, numbers(charged, "zone"))
    stays = in_service(layout.outages, numbers(layout.rows, "outage")[place], charged, source)
    place, source = place[stays], source[stays]
    siemens = charged["siemens"].to_numpy(dtype=float)
    total = np.bincount(place, weights=siemens[source], minlength=len(layout.rows))
    counted = np.bincount(place, minlength=len(layout.rows)) > 0
    return np.where(counted, np.sqrt(3) * kv * 1e3 * total, np.nan)


def left_endless(
    networks: Networks, topology: Topology, layout: Layout, ways: pd.DataFrame
) -> tuple[Bools, Bools, Bools]:
    """
    Of each row with the outage: whether its zero-sequence impedance is without limit; whether nothing is left; and
    whether capacitance decides that is not on record in full.

    As for the networks with all in service: no way to ground, not even by capacitance; or by capacitance and coils
    alone, with the capacitance not on record in full.
    """
    charged = capacitances(networks, topology)
    grounded = layout.reached(ways)
    beyond_coil = layout.reached(ways[~ways["coil"]])
    capacitive = layout.reached(charged[charged["siemens"] > 0])
    incomplete = layout.spread(np.flatnonzero(np.isnan(charging_left(networks, topology, layout))))
    nothing = ~grounded & ~capacitive
    endless = nothing | (~beyond_coil & incomplete)
    return endless, nothing, endless & incomplete
