"""Word, shape and color of each severity, outcome, phase and zone: the one source for page, charts and drawings."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Mark:
    """
    How one thing is shown; the shape and whether it is filled tell it apart where there is no color.

    `shape` is the name of a Vega symbol, `glyph` the same as a character of text. `light` and `dark` color marks and
    lines on light and on dark paper, `ink_light` and `ink_dark` color text there.
    """

    key: str
    word: str
    glyph: str
    shape: str
    filled: bool
    light: str
    dark: str
    ink_light: str
    ink_dark: str

    def color(self, dark: bool = False) -> str:
        """Of a mark or a line: 3:1 against the paper, or more."""
        return self.dark if dark else self.light

    def ink(self, dark: bool = False) -> str:
        """Of a text: 4.5:1 against the paper, or more."""
        return self.ink_dark if dark else self.ink_light

    def ink_on(self, dark: bool = False) -> str:
        """Of a text inside the mark: 4.5:1 against it, or more."""
        if not self.filled:
            return paper(dark).ink
        return DARK.ground if dark else LIGHT.ground if self.key in ("high", "exception") else LIGHT.ink


@dataclass(frozen=True)
class Paper:
    """What everything is drawn on, and with."""

    ground: str
    ink: str
    quiet_ink: str
    rule: str  # thin lines: grids, axes, borders of tables


LIGHT = Paper(ground="#ffffff", ink="#1b1e21", quiet_ink="#565d64", rule="#c9ced3")
DARK = Paper(ground="#14171a", ink="#e8eaec", quiet_ink="#a3abb2", rule="#3b4248")


def paper(dark: bool = False) -> Paper:
    """Light or dark."""
    return DARK if dark else LIGHT


HIGH = Mark("high", "high", "▲", "triangle-up", True, "#9f1418", "#ff7468", "#9f1418", "#ff8a80")
MEDIUM = Mark("medium", "medium", "◆", "diamond", True, "#c87212", "#e6a23c", "#8f4f00", "#e6a23c")
LOW = Mark("low", "low", "●", "circle", True, "#5191c9", "#7fb8ea", "#25659c", "#7fb8ea")
NONE = Mark("none", "no open finding", "○", "circle", False, "#6b747c", "#98a1a9", "#565d64", "#a3abb2")
WAIVED = Mark("waived", "waived", "□", "square", False, "#6b747c", "#98a1a9", "#565d64", "#a3abb2")
NOT_ASSESSABLE = Mark(
    "not_assessable", "not assessable", "+", "cross", False, "#7a5ea8", "#b79fe0", "#674b95", "#b79fe0"
)

SEVERITIES: Mapping[str, Mark] = {mark.key: mark for mark in (HIGH, MEDIUM, LOW)}
STANDINGS: Mapping[str, Mark] = {mark.key: mark for mark in (HIGH, MEDIUM, LOW, NOT_ASSESSABLE, WAIVED, NONE)}
"""How a station stands, the worst first: its worst open finding, else what could not be assessed, else waived ones."""

OUTCOMES: Mapping[str, Mark] = {
    "exception": Mark("exception", "exception", "■", "square", True, "#9f1418", "#ff7468", "#9f1418", "#ff8a80"),
    "not_assessable": NOT_ASSESSABLE,
    "satisfied": Mark("satisfied", "satisfied", "✓", "circle", False, "#3d7a53", "#7fc199", "#2f6844", "#7fc199"),
    "not_applicable": Mark("not_applicable", "not applicable", "·", "circle", False, *["#868e96", "#7a838b"] * 2),
}


def standing(key: str) -> Mark:
    """The mark of a severity or a standing; a severity of an owner's own rules that is not known is shown as low."""
    return STANDINGS.get(key, LOW)


def of_finding(severity: str, status: str | None = None) -> Mark:
    """The mark of a finding: that of its severity, unless it is waived."""
    return WAIVED if status == "waived" else standing(severity)


@dataclass(frozen=True)
class Phase:
    """One phase: its letter, its color, and the dash pattern that tells it apart without color."""

    letter: str
    light: str
    dark: str
    dash: tuple[int, ...]

    def color(self, dark: bool = False) -> str:
        """On light or on dark paper."""
        return self.dark if dark else self.light


PHASES = (
    Phase("A", "#9f1418", "#ff8a80", ()),
    Phase("B", "#25659c", "#7fb8ea", (7, 3)),
    Phase("C", "#2f6844", "#7fc199", (2, 2)),
)


@dataclass(frozen=True)
class ZoneTint:
    """The tint of one grounding zone; the number written in it tells it apart without color."""

    number: int
    fill_light: str
    fill_dark: str
    edge_light: str
    edge_dark: str
    dash: tuple[int, ...]

    @property
    def label(self) -> str:
        """'Z1'; not a letter, because letters are phases."""
        return f"Z{self.number}"

    def fill(self, dark: bool = False) -> str:
        """Behind a drawing; ink stays readable on it."""
        return self.fill_dark if dark else self.fill_light

    def edge(self, dark: bool = False) -> str:
        """Of its border, and of its number."""
        return self.edge_dark if dark else self.edge_light


_TINTS = (
    ("#e6eff8", "#1d2c3a", "#25659c", "#7fb8ea", ()),
    ("#f8eedd", "#372b17", "#8f4f00", "#e6a23c", (6, 3)),
    ("#e5f2e9", "#1b3023", "#2f6844", "#7fc199", (2, 2)),
    ("#efeaf7", "#2b2439", "#674b95", "#b79fe0", (8, 3, 2, 3)),
    ("#f8e7ea", "#3a2025", "#97344c", "#f092a6", (10, 4)),
    ("#e2f1f2", "#17302f", "#1b6a6f", "#6fc4c9", (4, 4)),
    ("#f3f1d9", "#302e15", "#6a6200", "#cfc561", (1, 3)),
    ("#ecedef", "#2a2e32", "#565d64", "#a3abb2", (12, 3, 3, 3)),
)


def zone_tint(position: int) -> ZoneTint:
    """The tint of the zone that is named at this position, from 0; tints come round again after the eighth."""
    return ZoneTint(position + 1, *_TINTS[position % len(_TINTS)])
