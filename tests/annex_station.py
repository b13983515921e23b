"""The 115/13 kV station of IEEE Std 80-2013, annex B, as records; its mats differ from example to example."""

from math import sqrt
from typing import Any

# IEEE Std 80-2013, annex B (recalled): Z1 4 + j10 and Z0 10 + j40 ohm at 115 kV, transformer 0.034 + j1.014 ohm at
# 13 kV, Dyn. The infeed is put on record by its currents; what its zero sequence is comes back from them.
Z1, Z0, TRANSFORMER = 4 + 10j, 10 + 40j, 0.034 + 1.014j
PERCENT = abs(TRANSFORMER) * 15 / 13**2 * 100  # on 15 MVA

# Soil 400 ohm m, 0.102 m of 2500 ohm m on top, 0.5 s, 0.6 of the current through the mat, conductors 0.01 m across.
MAT = {
    "ground_grid": "M", "spacing": 7.0, "depth": 0.5, "soil_resistivity": 400.0, "surface_resistivity": 2500.0,
    "surface_depth": 0.102, "split_factor": 0.6, "fault_duration": 0.5, "conductor_size": "78.54 mm2",
    "conductor_material": "copper",
}  # fmt: skip
SQUARE = {"length": 70.0, "width": 70.0, "area": 4900.0, "perimeter": 280.0, "conductor_length": 1540.0, "rods": 0}


def annex_station(**mat: Any) -> dict[str, list[dict[str, Any]]]:
    """The station with the square mat of B.1, changed by what is given."""
    return {
        "substation": [{"frequency": 60.0}],
        "bus": [
            {"bus": "H", "nominal_voltage": 115.0, "ground_fault_clearing_time": 0.5},
            {"bus": "L", "nominal_voltage": 13.0, "ground_fault_clearing_time": 0.5},
        ],
        "infeed": [
            {"infeed": "Q", "bus": "H", "fault_level_3ph": 115**2 / abs(Z1), "x_over_r": Z1.imag / Z1.real,
             "grounded": True, "fault_current_1ph": sqrt(3) * 115 / abs(2 * Z1 + Z0)}
        ],
        "transformer": [
            {"transformer": "T1", "hv_bus": "H", "lv_bus": "L", "rated_power": 15.0, "hv_voltage": 115.0,
             "lv_voltage": 13.0, "vector_group": "Dyn1", "impedance": PERCENT, "z0": PERCENT,
             "x_over_r": TRANSFORMER.imag / TRANSFORMER.real}
        ],
        "neutral_device": [{"neutral_device": "N1", "connected_to": "T1", "winding": "lv", "kind": "solid"}],
        "ground_grid": [MAT | SQUARE | mat],
    }  # fmt: skip
