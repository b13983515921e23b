"""Stations to draw, from records alone: a big one, and one of every trouble."""

from typing import Any


def station(code: str, **inventory: Any) -> dict[str, Any]:
    """The facts of a station of which there is nothing but records."""
    tables = {table: [{"substation": code, **row} for row in rows] for table, rows in inventory.items()}
    return {"substation": code, "name": code.title(), "inventory": tables, "study": {}}


def big() -> dict[str, Any]:
    """Twelve buses of three voltages, forty feeders at each of the lowest."""
    buses = [{"bus": "H1", "nominal_voltage": 132.0}, {"bus": "H2", "nominal_voltage": 132.0}]
    buses += [{"bus": f"M{n}", "nominal_voltage": 33.0} for n in range(4)]
    buses += [{"bus": f"L{n}", "nominal_voltage": 11.0} for n in range(6)]
    units = [
        {"transformer": f"T{n}", "hv_bus": f"H{n % 2 + 1}", "lv_bus": f"M{n}", "vector_group": "YNd1"} for n in range(4)
    ]
    units += [
        {"transformer": f"S{n}", "hv_bus": f"M{n % 4}", "lv_bus": f"L{n}", "vector_group": "Dyn11"} for n in range(6)
    ]
    feeders = [{"line": f"F{b}-{n}", "from_bus": f"L{b}", "length": 1.0 + n} for b in range(6) for n in range(40)]
    switches = [{"switch": "QH", "bus_a": "H1", "bus_b": "H2", "normal_state": "closed"}]
    switches += [{"switch": f"Q{n}", "bus_a": f"L{n}", "bus_b": f"L{n + 1}", "normal_state": "open"} for n in range(5)]
    return station("BIG", bus=buses, transformer=units, line=feeders, switch=switches)


def troubled() -> list[dict[str, Any]]:
    """Records that contradict, dangle or say next to nothing."""
    bus = {"bus": "B1", "nominal_voltage": 33.0}
    low = {"bus": "B2", "nominal_voltage": 11.0}
    unit = {"transformer": "T1", "hv_bus": "B1", "lv_bus": "B2", "vector_group": "Dyn11"}
    device = {"neutral_device": "N1", "connected_to": ["T1"], "kind": "resistor"}
    high = {"bus": "B9", "nominal_voltage": 33.0}
    more = [{"bus": "A1", "nominal_voltage": 33.0}, {"bus": "A2", "nominal_voltage": 11.0}]
    third = {"bus": "B3", "nominal_voltage": 6.6}
    crossed = [
        {**unit, "transformer": f"T {upper} {lower}", "hv_bus": upper, "lv_bus": lower}
        for upper in ("B1", "A1")
        for lower in ("B2", "A2")
    ]
    tertiaries = [
        {**unit, "vector_group": "YNyn0yn0", "tv_bus": "B3"},
        {**unit, "transformer": "T2", "vector_group": "YNauto", "tv_bus": "B3"},
    ]
    both = [device, {**device, "neutral_device": "N2", "kind": "arc_suppression_coil"}]
    loop = {"line": "F", "from_bus": "B1", "to_bus": "B1"}
    return [
        station("NONE"),
        station("DANGLING", bus=[bus], transformer=[unit]),
        station("NO BUS", transformer=[{"transformer": "T1"}], infeed=[{"infeed": "Q"}], line=[{"line": "F"}]),
        station("NO KV", bus=[{"bus": "B1"}, {"bus": "B2"}], switch=[{"switch": "S", "bus_a": "B1", "bus_b": "B2"}]),
        station("LOOP", bus=[bus], transformer=[{**unit, "lv_bus": "B1"}], line=[loop]),
        station("UPSIDE", bus=[bus, low], transformer=[{**unit, "hv_bus": "B2", "lv_bus": "B1"}]),
        station("GROUP", bus=[bus, low], transformer=[{**unit, "vector_group": "?"}], neutral_device=[device]),
        station("LOOSE", bus=[bus], neutral_device=[device], ground_relay=[{"ground_relay": "R1", "measures": "X"}]),
        station("SAME", bus=[bus, high], transformer=[{**unit, "lv_bus": "B9"}]),
        station("ABROAD", bus=[bus], transformer=[{**unit, "lv_bus": "ASH:B2"}]),
        station("OUTSIDE", bus=[bus], switch=[{"switch": "S", "bus_a": "B1", "bus_b": "B7"}]),
        station("TWICE", bus=[bus, low], transformer=[unit], neutral_device=both),
        station("CROSSED", bus=[bus, low, *more], transformer=crossed),
        station(
            "TERTIARY",
            bus=[bus, low, third],
            transformer=tertiaries,
            neutral_device=[{**device, "winding": side, "neutral_device": side} for side in ("hv", "lv", "tv")],
        ),
        big(),
    ]
