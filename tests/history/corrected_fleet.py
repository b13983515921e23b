"""One station whose resistor's record is corrected from audit to audit."""

from typing import Any

import pandas as pd


def fleet(rated_current: float | None = 300.0, *, device: bool = True) -> dict[str, pd.DataFrame]:
    """An 11 kV bus behind a resistor of 15.9 ohm, which passes 400 A."""
    tables: dict[str, list[dict[str, Any]]] = {
        "substation": [{"substation": "ELM", "district": "North", "frequency": 50.0}],
        "bus": [
            {"substation": "ELM", "bus": "B33", "nominal_voltage": 33.0, "ground_fault_clearing_time": 0.5},
            {"substation": "ELM", "bus": "B11", "nominal_voltage": 11.0, "ground_fault_clearing_time": 1.0},
        ],
        "infeed": [
            {"substation": "ELM", "infeed": "Q1", "bus": "B33", "fault_level_3ph": 500.0, "x_over_r": 10.0,
             "grounded": True, "fault_current_1ph": 6.0},
        ],
        "transformer": [
            {"substation": "ELM", "transformer": "T1", "hv_bus": "B33", "lv_bus": "B11", "rated_power": 10.0,
             "hv_voltage": 33.0, "lv_voltage": 11.0, "vector_group": "Dyn11", "impedance": 8.0, "x_over_r": 15.0,
             "z0": 7.0},
        ],
    }  # fmt: skip
    if device:
        tables["neutral_device"] = [
            {"substation": "ELM", "neutral_device": "NR1", "connected_to": "T1", "winding": "lv", "kind": "resistor",
             "resistance": 15.9, "rated_voltage": 6.4, "rated_current": rated_current, "rated_time": 10.0},
        ]  # fmt: skip
    return {name: pd.DataFrame(rows) for name, rows in tables.items()}
