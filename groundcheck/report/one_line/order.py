"""The order of buses: tiers by voltage, and in each tier the order that crosses the fewest leads (barycenter)."""

from groundcheck.report.one_line.model import Bus, Model

SWEEPS = 6


def order_buses(model: Model) -> list[list[Bus]]:
    """Tiers, highest voltage first, unknown voltage last; `tier` and `rank` of each bus are set."""
    levels = sorted({round(bus.kv, 3) for bus in model.buses if bus.kv is not None}, reverse=True)
    place = {kv: tier for tier, kv in enumerate(levels)}
    tiers: list[list[Bus]] = [[] for _ in range(len(levels) + 1)]
    for bus in model.buses:
        bus.tier = len(levels) if bus.kv is None else place[round(bus.kv, 3)]
        tiers[bus.tier].append(bus)
    while tiers and not tiers[-1]:
        tiers.pop()
    beside: dict[str, list[Bus]] = {bus.key: [] for bus in model.buses}
    for unit in model.units:
        ends = [winding.bus for winding in (unit.upper, unit.lower, unit.third) if winding and winding.bus]
        for bus in ends:
            beside[bus.key] += [other for other in ends if other is not bus]
    for join in model.joins:
        beside[join.a.key].append(join.b)
        beside[join.b.key].append(join.a)
    for buses in tiers:
        buses.sort(key=lambda bus: bus.tag)
        _rank(buses)
    if any(len(buses) > 1 for buses in tiers):
        for sweep in range(SWEEPS):
            for buses in tiers if sweep % 2 == 0 else reversed(tiers):
                if len(buses) > 1:
                    wanted = {bus.key: _centre(bus, beside[bus.key], tiers) for bus in buses}
                    buses.sort(key=lambda bus: wanted[bus.key])
                    _rank(buses)
    return tiers


def _rank(buses: list[Bus]) -> None:
    for rank, bus in enumerate(buses):
        bus.rank = rank


def _centre(bus: Bus, others: list[Bus], tiers: list[list[Bus]]) -> float:
    own = (bus.rank + 0.5) / len(tiers[bus.tier])
    if not others:
        return own
    return sum((other.rank + 0.5) / len(tiers[other.tier]) for other in others) / len(others)
