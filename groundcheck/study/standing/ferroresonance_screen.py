"""Voltage transformers that may go into ferroresonance: tied to ground in a zone that nothing else grounds."""

import numpy as np
import pandas as pd

from groundcheck.study.context import Study
from groundcheck.study.currents.readings import taken
from groundcheck.study.faults.zone_quantities import charging_bounds, naming_bus, zone_of_bus
from groundcheck.study.faults.zone_table import nullable
from groundcheck.study.gaps import assets_of, joined, own_field
from groundcheck.study.relays.vt_connection import KIND, stands_to_ground


def ferroresonance_screen_tables(study: Study) -> dict[str, pd.DataFrame]:
    """study.ferroresonance_screen: a row for each voltage transformer of a zone that is, or may be, ungrounded."""
    records, zones = study.records, study.zones
    zone = zone_of_bus(study.topology, records.bus_of(KIND, "bus"))
    classes = zones["grounding_class"].to_numpy(dtype=object)
    ungrounded = np.array([np.nan if pd.isna(c) else float(c == "ungrounded") for c in classes], dtype=float)
    of_zone = np.asarray(taken(ungrounded, zone), dtype=float)
    voltage = records.words(KIND, "kind") == "vt"
    shown = voltage & (zone >= 0) & (of_zone != 0)
    to_ground = np.where(voltage, stands_to_ground(study), np.nan)
    damping = records.numbers(KIND, "damping_resistor")
    # Prone: both conditions hold; certainly not, where either fails or a resistor damps it.
    prone = np.where((to_ground == 0) | ~np.isnan(damping), 0.0, to_ground * of_zone)
    station, tag = records.tags(KIND)
    frame = pd.DataFrame(
        {
            "substation": station,
            "instrument_transformer": tag,
            "zone": [study.names.name[z] if z >= 0 else None for z in zone],
            "connection": records.words(KIND, "connection"),
            "to_ground": nullable(to_ground),
            "ungrounded": nullable(of_zone),
            "damping_resistor": damping,
            "prone": nullable(prone),
            **charging_bounds(study).take(zone).columns("charging_a"),
            "provisional": np.asarray(taken(zones["provisional"].to_numpy(dtype=bool), zone, False), dtype=bool),
        }
    )
    open_row = shown & np.isnan(prone)
    assets, quantity = assets_of(records, KIND), "ferroresonance_screen.prone"
    return {
        "ferroresonance_screen": frame[shown],
        "blocked": joined(
            [
                own_field(assets, quantity, open_row & np.isnan(to_ground), "connection"),
                study.tracer.grounding(assets, quantity, open_row & np.isnan(of_zone), naming_bus(study, zone)),
            ]
        ),
    }
