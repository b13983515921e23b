"""What nameplates say, in the terms of coils."""

import re
from typing import Any

import numpy as np
from networks.coils import impedance

Row = dict[str, Any]


def split_group(text: str) -> tuple[list[str], list[int]]:
    """Connections in capitals, and the clock numbers of all windings but the first."""
    first, rest = re.fullmatch(r"([A-Z]+)(.*)", text).groups()
    others = re.findall(r"([a-z]+)(\d+)", rest)
    return [first, *(letter.upper() for letter, _ in others)], [int(hour) for _, hour in others]


def leakage(row: Row, sequence: int) -> list[complex]:
    """
    Leakage of the pairs HV-LV, HV-TV, LV-TV per square of the turns they are seen from, in ohm per kV squared.

    A wye winding has line voltage over sqrt(3) of turns and the impedance Z, a delta the line voltage and 3 Z: both
    have 3 Z over line voltage squared. The zero sequence of all pairs stands in the ratio of z0 to the impedance.
    """
    third = row.get("tv_power", row["rated_power"])
    pairs = [("impedance", row["rated_power"]), ("hv_tv_impedance", third), ("lv_tv_impedance", third)]
    ratio = row["z0"] / row["impedance"] if sequence == 0 else 1.0
    return [3 * ratio * impedance(row[name], row["x_over_r"], mva) for name, mva in pairs if name in row]


def device_ohm(row: Row) -> complex:
    """Impedance of a neutral device: infinite where it carries nothing at power frequency."""
    kind = row["kind"]
    if kind == "solid":
        return 0
    if kind == "resistor":
        return row["resistance"] if "resistance" in row else row["rated_voltage"] * 1e3 / row["rated_current"]
    if kind in ("reactor", "arc_suppression_coil"):
        return complex(row["resistance"], row["reactance"])
    if kind == "distribution_transformer":
        return row["secondary_resistance"] * (row["primary_voltage"] / row["secondary_voltage"]) ** 2
    return np.inf
