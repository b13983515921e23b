"""What a placed drawing consists of."""

from dataclasses import dataclass, field

from groundcheck.report.one_line.model import Bus, Join
from groundcheck.report.one_line.part import Part


@dataclass
class Bar:
    """The bar of a bus: from `start` to `end`, in the `level`th place of its tier, at height `y`."""

    bus: Bus
    label: Part
    start: float
    label_end: float
    end: float
    level: int = 0
    y: float = 0.0
    taps: list[float] = field(default_factory=list)
    below: list[Part] = field(default_factory=list)


@dataclass
class Hung:
    """A part with its lead at x; above (`up`) or below its bar."""

    part: Part
    x: float
    bar: Bar | None
    tier: int
    up: bool = False
    y: float = 0.0


@dataclass
class Fall:
    """A lead from the foot of a part straight down to a bar."""

    hung: Hung
    dx: float
    dy: float
    bar: Bar
    dotted: bool = False


@dataclass
class Jog:
    """A lead from the foot of a part along a track to a riser at another bar."""

    hung: Hung
    dx: float
    dy: float
    bus: Bus
    riser: float | None = None
    track: int = 0
    y: float = 0.0


@dataclass
class Lying:
    """A switch lying between two bars."""

    part: Part
    join: Join
    a: Bar
    b: Bar


@dataclass
class Layout:
    """A placed drawing."""

    bars: list[Bar]
    hung: list[Hung]
    falls: list[Fall]
    jogs: list[Jog]
    lying: list[Lying]
    bottom: float
    width: float
