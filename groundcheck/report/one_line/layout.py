"""
Where everything stands.

Tiers of buses by voltage, each with three rows: A, what stands above the bars; B, the bars with their labels; D, what
hangs below. Things are placed from left to right in one order, each as far left as the rows that it covers allow, so
that nothing covers anything; a bar reaches over all that it carries. Bars of a tier that would overlap, because leads
cross, are put one below the other. Leads that do not fall straight onto their bus run along a track below row D.
"""

from collections import defaultdict

from groundcheck.report.one_line.bays import hanging_parts
from groundcheck.report.one_line.joins import coupler, join_part
from groundcheck.report.one_line.labels import bus_label
from groundcheck.report.one_line.model import Bus, Join, Model, Unit
from groundcheck.report.one_line.order import order_buses
from groundcheck.report.one_line.part import Part
from groundcheck.report.one_line.places import Bar, Fall, Hung, Jog, Layout, Lying
from groundcheck.report.one_line.stack import APART, stack
from groundcheck.report.one_line.transformers import Drawn, draw_transformer

MARGIN = 20.0
LEAD = 8.0  # room that a passing lead keeps to each side

Slot = tuple[int, str]


def _may_lie(join: Join) -> bool:
    return join.kind == "switch" and join.a.tier == join.b.tier and join.a is not join.b


def lay_out(model: Model, top: float = 0.0) -> Layout:
    """Place a station; a switch that turns out not to lie between two bar ends is hung instead."""
    tiers = order_buses(model)
    hanging: set[int] = set()
    for _ in range(4):
        placer = _Placer(model, tiers, hanging)
        misplaced = placer.place()
        if not misplaced:
            break
        hanging |= misplaced
    return stack(model, tiers, placer.layout(), top)


class _Placer:
    """Everything is emitted once, in order; `reach` is how far right each row is taken."""

    def __init__(self, model: Model, tiers: list[list[Bus]], hanging: set[int]) -> None:
        self.model, self.tiers, self.hanging = model, tiers, hanging
        self.reach: dict[Slot, float] = defaultdict(float)
        self.bars: dict[str, Bar] = {}
        self.last: dict[int, Bar] = {}
        self.finished: set[str] = set()
        self.hung: list[Hung] = []
        self.falls: list[Fall] = []
        self.jogs: list[Jog] = []
        self.lying: list[Lying] = []
        self.units: dict[str, list[Unit]] = defaultdict(list)
        for unit in model.units:
            if unit.upper.bus is not None:
                self.units[unit.upper.bus.key].append(unit)
        self.joins: dict[str, list[Join]] = defaultdict(list)
        for join in model.joins:
            self.joins[min((join.a, join.b), key=lambda bus: (bus.tier, bus.rank)).key].append(join)
        self.joined: set[int] = set()

    def place(self) -> set[int]:
        """Place all; returns the switches that were to lie between two bars and cannot."""
        for buses in self.tiers:
            for bus in buses:
                self._finish(bus)
        self._levels()
        apart = [id(each.join) for each in self.lying if each.a.level != each.b.level or each.a.end > each.b.start - 40]
        return {*apart, *(id(join) for join in self.model.joins if id(join) not in self.joined)}

    # Rows ------------------------------------------------------------------------------------------------------

    def _put(self, least: float, covers: list[tuple[Slot, float, float]]) -> float:
        """The least x, not below `least`, at which all rows are free; and take them."""
        reach = self.reach
        x = least
        for slot, left, _ in covers:
            taken = reach.get(slot)
            if taken is not None and taken + left > x:
                x = taken + left
        for slot, _, right in covers:
            if x + right > reach[slot]:
                reach[slot] = x + right
        return x

    def _tap(self, bar: Bar, x: float) -> None:
        bar.taps.append(x)
        bar.end = max(bar.end, x + 10)
        slot = (bar.bus.tier, "B")
        self.reach[slot] = max(self.reach[slot], bar.end)

    def _passing(self, above: int, below: int) -> list[tuple[Slot, float, float]]:
        """Rows that a lead crosses from row D of one tier to the bar of a lower one."""
        slots: list[Slot] = []
        for tier in range(above + 1, below + 1):
            slots.append((tier, "A"))
            if tier < below:
                slots += [(tier, "B"), (tier, "D")]
        return [(slot, LEAD, LEAD) for slot in slots]

    # Buses -----------------------------------------------------------------------------------------------------

    def _label(self, bus: Bus) -> Bar:
        """The label of a bus and what stands above it."""
        if bus.key in self.bars:
            return self.bars[bus.key]
        slot = (bus.tier, "B")
        before = self.last.get(bus.tier)
        start = self.reach[slot] + LEAD if self.reach[slot] else 0.0  # past a lead that falls through this tier
        switch = None
        if before is not None:
            start = self.reach[slot] + 30
            switch = self._switch_between(before.bus, bus)
        lying = None
        if switch is not None and before is not None:
            lying = coupler(self.model, switch)
            start = self.reach[slot] + max(64.0, lying.left + lying.right + 18)
        label = bus_label(self.model, bus)
        end = start + label.right + 6
        bar = Bar(bus, label, start, end, end)
        self.bars[bus.key] = self.last[bus.tier] = bar
        self.reach[slot] = max(self.reach[slot], end)
        if switch is not None and lying is not None and before is not None:
            self.joined.add(id(switch))
            self.lying.append(Lying(lying, switch, before, bar))
        above, below = hanging_parts(self.model, bus, up=bus.tier == 0)
        for part in above:
            x = self._put(end + 22, [((bus.tier, "A"), part.left + APART, part.right)])
            self._tap(bar, x)
            self.hung.append(Hung(part, x, bar, bus.tier, up=True))
        bar.below = below
        return bar

    def _switch_between(self, a: Bus, b: Bus) -> Join | None:
        for join in self.model.joins:
            free = id(join) not in self.joined and id(join) not in self.hanging
            if free and _may_lie(join) and {join.a.key, join.b.key} == {a.key, b.key}:
                return join
        return None

    def _finish(self, bus: Bus) -> None:
        """All that hangs on a bus, its transformers with the buses below them first."""
        if bus.key in self.finished:
            return
        self.finished.add(bus.key)
        bar = self._label(bus)
        groups: dict[str, list[Unit]] = defaultdict(list)
        for unit in self.units[bus.key]:
            groups[unit.lower.bus.key if unit.lower.bus else ""].append(unit)
        for units in sorted(groups.values(), key=self._group_rank):
            for unit in units:
                self._unit(bar, unit)
            lower = units[0].lower.bus
            if lower is not None and lower.tier > bus.tier:
                self._finish(lower)
        for part in bar.below:
            self._hang(bar, part)
        for join in self.joins[bus.key]:
            if id(join) in self.hanging or not _may_lie(join):
                self.joined.add(id(join))
                part = join_part(self.model, join)
                hung = self._hang(bar, part)
                self._jog(hung, 0.0, part.height, join.b if join.a is bus else join.a)
        for jog in self.jogs:
            if jog.bus is bus and jog.riser is None:
                self._riser(jog)

    def _group_rank(self, units: list[Unit]) -> tuple[int, int]:
        bus = units[0].lower.bus
        return (0, 0) if bus is None else (bus.rank, bus.tier)

    def _hang(self, bar: Bar, part: Part) -> Hung:
        tier = bar.bus.tier
        x = self._put(bar.start + 8, [((tier, "D"), part.left + APART, part.right)])
        self._tap(bar, x)
        self.hung.append(Hung(part, x, bar, tier))
        return self.hung[-1]

    # Leads -----------------------------------------------------------------------------------------------------

    def _unit(self, bar: Bar, unit: Unit) -> None:
        drawn: Drawn = draw_transformer(self.model, unit)
        part, tier = drawn.part, bar.bus.tier
        third = unit.third.bus if unit.third else None
        third_jog: Jog | None = None
        lower = unit.lower.bus
        straight = lower is not None and lower.tier > tier
        if third is not None and drawn.third is not None:
            hung = Hung(part, 0.0, bar, tier)
            third_jog = Jog(hung, *drawn.third, third)
            if third.tier > tier:
                self._label(third)
                self._riser(third_jog)
                self._finish(third)
        covers = [((tier, "D"), part.left + APART, part.right)]
        least = bar.start + 8
        dx, dy = drawn.lower
        if straight:
            assert lower is not None
            below = self._label(lower)
            covers += [(slot, left - dx, right + dx) for slot, left, right in self._passing(tier, lower.tier)]
            least = max(least, below.label_end + 8 - dx)
        x = self._put(least, covers)
        self._tap(bar, x)
        hung = third_jog.hung if third_jog else Hung(part, x, bar, tier)
        hung.x = x
        self.hung.append(hung)
        if straight:
            self._tap(below, x + dx)
            self.falls.append(Fall(hung, dx, dy, below, dotted=below.bus.note is not None))
        elif lower is not None:
            self._jog(hung, dx, dy, lower)
        if third_jog:
            self.jogs.append(third_jog)
            if third_jog.riser is None and third.key in self.finished:  # type: ignore[union-attr]
                self._riser(third_jog)

    def _jog(self, hung: Hung, dx: float, dy: float, bus: Bus) -> None:
        jog = Jog(hung, dx, dy, bus)
        self.jogs.append(jog)
        if bus.key in self.finished:
            self._riser(jog)

    def _riser(self, jog: Jog) -> None:
        """Where the lead reaches its bus: from above through the rows between, or from below."""
        bar, tier = self._label(jog.bus), jog.hung.tier
        if jog.bus.tier > tier:
            covers, least = self._passing(tier, jog.bus.tier), bar.label_end + 8
        else:
            covers = [((jog.bus.tier, "D"), LEAD, LEAD)]
            for between in range(jog.bus.tier + 1, tier + 1):
                covers += [((between, row), LEAD, LEAD) for row in "ABD"]
            least = bar.start + 8
        jog.riser = self._put(least, covers)
        self._tap(bar, jog.riser)

    def _levels(self) -> None:
        for buses in self.tiers:
            ends: list[float] = []
            for bar in sorted((self.bars[bus.key] for bus in buses), key=lambda bar: bar.start):
                bar.level = next((level for level, end in enumerate(ends) if end < bar.start - 6), len(ends))
                ends[bar.level : bar.level + 1] = [bar.end]

    def layout(self) -> Layout:
        """As placed; heights are still to come."""
        width = max([*self.reach.values(), 260.0])
        return Layout(list(self.bars.values()), self.hung, self.falls, self.jogs, self.lying, 0.0, width)
