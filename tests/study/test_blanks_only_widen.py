"""A record left blank may only widen the bounds of what rests on it: filling it in never contradicts an answer."""

import numpy as np
import pytest

TABLES = ("device_heating", "generator_grounding", "grounding_transformer_size", "coil_tuning", "standing_fault",
          "transient_screen", "run_on_limit")  # fmt: skip
BLANKS = [
    ("neutral_device", 1, "rated_current"),
    ("neutral_device", 1, "rated_time"),
    ("neutral_device", 3, "rated_current"),
    ("neutral_device", 3, "continuous_current"),
    ("line", 0, "c0"),
    ("line", 0, "r0"),
    ("transformer", 2, "impedance"),
    ("infeed", 0, "fault_level_3ph"),
    ("insulation", 0, "cable_insulation_level"),
    ("bus", 1, "ground_fault_clearing_time"),
]


@pytest.fixture
def fleet(station):
    """The station with a 10 kV zone behind a coil, a cable in it, and ratings."""
    station["bus"] += [{"bus": name, "nominal_voltage": 10.0} for name in ("R", "R2")]
    station["transformer"].append(
        {"transformer": "T3", "hv_bus": "M", "lv_bus": "R", "rated_power": 10.0, "hv_voltage": 20.0, "lv_voltage": 10.0,
         "vector_group": "Dyn11", "impedance": 8.0, "x_over_r": 15.0, "z0": 8.0}
    )  # fmt: skip
    station["line"] = [
        {"line": "F1", "from_bus": "R", "to_bus": "R2", "length": 5.0, "construction": "cable", "r1": 0.1, "x1": 0.12,
         "r0": 0.4, "x0": 0.5, "c0": 300.0}
    ]  # fmt: skip
    station["insulation"] = [
        {"insulation": "C1", "bus": "R", "kind": "cable", "rated_line_voltage": 10.0, "cable_insulation_level": 133}
    ]
    station["neutral_device"][1] |= {"rated_current": 600.0, "rated_time": 10.0}
    station["neutral_device"].append(
        {"neutral_device": "COIL", "connected_to": "T3", "winding": "lv", "kind": "arc_suppression_coil",
         "reactance": 650.0, "resistance": 3.0, "rated_current": 12.0, "rated_time": 7200.0, "continuous_current": 5.0}
    )  # fmt: skip
    return station


def bounds(store):
    """Low and high ends by table, row and quantity."""
    found = {}
    for table in TABLES:
        frame = store.frame(f"SELECT * FROM study.{table}")
        names = [c.removesuffix("_low") for c in frame.columns if c.endswith("_low")]
        tag = next(c for c in ("neutral_device", "grounding_transformer", "asset", "zone") if c in frame)
        for _, row in frame.iterrows():
            for name in names:
                found[table, row[tag], name] = tuple(row[[name, f"{name}_low", f"{name}_high"]].astype(float))
    return found


@pytest.mark.parametrize(("table", "row", "field"), BLANKS)
def test_blank_field_only_widens(study, fleet, table, row, field):
    whole = bounds(study(fleet))
    del fleet[table][row][field]
    thin = bounds(study(fleet))
    assert set(whole) <= set(thin)
    for key, (value, low, high) in whole.items():
        _, wider_low, wider_high = thin[key]
        if np.isnan(low):
            continue
        slack = 1e-9 * abs(low)
        assert wider_low <= low + slack, key
        assert wider_high >= high * (1 - 1e-9), key
        assert np.isnan(value) or low - slack <= value <= high * (1 + 1e-9) + 1e-12, key
