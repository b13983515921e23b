"""Heights of a drawing: rows of each tier one below the other, tracks of leads, what is connected to nothing."""

from dataclasses import replace

from groundcheck.report.one_line.joins import loose_part
from groundcheck.report.one_line.model import Bus, Model
from groundcheck.report.one_line.places import Hung, Jog, Layout

APART = 16.0  # between two things side by side
TRACK = 9.0
BAR = 12.0  # from a bar to what hangs on it


def stack(model: Model, tiers: list[list[Bus]], layout: Layout, top: float) -> Layout:
    """Heights of rows from what stands in them, then of everything."""
    y = top
    at = {bar.bus.key: bar for bar in layout.bars}
    for tier, buses in enumerate(tiers):
        above = [hung for hung in layout.hung if hung.tier == tier and hung.up]
        y += max((hung.part.height for hung in above), default=0.0) + (6 if above else 0)
        roof = y
        bars = [at[bus.key] for bus in buses]
        for level in range(max((bar.level for bar in bars), default=-1) + 1):
            here = [bar for bar in bars if bar.level == level]
            y += max(bar.label.height for bar in here) + (10 if level else 4)
            for bar in here:
                bar.y = y
            y += 6
        for hung in above:
            hung.y = roof - hung.part.height
        y += BAR - 6
        below = [hung for hung in layout.hung if hung.tier == tier and not hung.up]
        for hung in below:
            hung.y = y
        y += max((hung.part.height for hung in below), default=0.0) + 10
        y += _tracks(layout.jogs, tier, y)
        y += 16
    x = layout.width
    row = 0.0
    for kind, record, why in model.loose:
        part = loose_part(model, kind, record, why)
        if row == 0.0 or row + part.left + part.right > max(x, 600):
            row, y = 0.0, y + (170 if row else 14)
        layout.hung.append(Hung(part, row + part.left + 8, None, -1, y=y))
        row += part.left + part.right + APART
        x = max(x, row)
    y = max([y, *(hung.y + hung.part.height + 10 for hung in layout.hung)])
    return replace(layout, bottom=y, width=x)


def _tracks(jogs: list[Jog], tier: int, y: float) -> float:
    """A track for each jog below this tier, shared where they do not meet; their height."""
    ends: list[float] = []
    jogs = [jog for jog in jogs if jog.hung.tier == tier and jog.riser is not None]
    for jog in sorted(jogs, key=lambda jog: min(jog.hung.x + jog.dx, jog.riser or 0.0)):
        left, right = sorted((jog.hung.x + jog.dx, jog.riser or 0.0))
        jog.track = next((track for track, end in enumerate(ends) if end < left - 6), len(ends))
        ends[jog.track : jog.track + 1] = [right]
        jog.y = y + jog.track * TRACK
    return len(ends) * TRACK
