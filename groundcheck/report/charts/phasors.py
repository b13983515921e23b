"""Voltages to ground of a zone at its worst bus, before and during a line-to-ground fault."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import phase_phasors_kv
from groundcheck.report.charts.chart import Body, Chart, Row, part
from groundcheck.report.charts.labels import label
from groundcheck.report.marks import PHASES, paper

_ROTATION = complex(-0.5, math.sqrt(0.75))
_PANELS = (("before", -1.2), ("during", 1.2))
_EAST, _SOUTH, _NORTH = 2.3, -2.5, 1.35  # edges of the drawing, in its own coordinates
_WIDTH = 340  # so that letters stay legible on a screen 320 px wide
_HEIGHT = _WIDTH * (_NORTH - _SOUTH) / (2 * _EAST)  # the same scale across and up


@dataclass(frozen=True)
class Phasors:
    """
    Voltages to ground at one bus of a zone.

    `during_kv` are the phasors of A, B and C with phase A at ground, the voltage of A before the fault being real and
    positive; None where the study could not compute them, and `reason` says so.
    """

    zone: str
    substation: str
    bus: str
    line_kv: float | None = None
    during_kv: NDArray[np.complex128] | None = None
    low_kv: float | None = None
    high_kv: float | None = None
    provisional: bool = False
    reason: str = ""

    @property
    def before_kv(self) -> NDArray[np.complex128]:
        """The same three before the fault: balanced about ground."""
        phase = (self.line_kv or math.nan) / math.sqrt(3)
        return np.array([1, _ROTATION**2, _ROTATION], dtype=np.complex128) * phase

    @property
    def neutral_kv(self) -> complex:
        """The shift of the neutral: the zero-sequence voltage."""
        return complex(np.mean(self.during_kv)) if self.during_kv is not None else complex(math.nan)

    @property
    def lines(self) -> list[str]:
        """What the picture shows, in words and numbers."""
        if self.during_kv is None or self.line_kv is None:
            return [self.reason]
        lengths = np.abs(self.during_kv)
        worse = 1 if lengths[1] >= lengths[2] * (1 - 1e-9) else 2
        even = abs(lengths[1] - lengths[2]) <= 1e-6 * lengths[worse]
        phase_kv, worst = self.line_kv / math.sqrt(3), float(lengths[worse])
        shift = abs(self.neutral_kv)
        within = []
        if self.low_kv is not None and self.high_kv is not None and self.high_kv > self.low_kv * 1.0005:
            within = [f"within its tolerances {self.low_kv:.4g} to {_or_no_limit(self.high_kv)}"]
        return [
            f"Healthy {'phases B and C' if even else f'phase {PHASES[worse].letter}'}: {worst:.4g} kV to ground",
            *within,
            f"= {_per_cent(worst / phase_kv)} of nominal phase-to-ground, {_per_cent(worst / self.line_kv)} of line "
            "voltage",
            f"Neutral shift {shift:.3g} kV, {_per_cent(shift / phase_kv)} of nominal phase-to-ground",
        ]


def zone_phasors(zone: Mapping[str, Any], faults: Sequence[Mapping[str, Any]]) -> Phasors:
    """
    The phasors at the bus with the highest healthy-phase voltage, from a row of study.zone and rows of study.bus_fault.

    `faults` are the rows of the zone's buses, in both conditions; a zero-sequence impedance that is blank beside a
    computed voltage means that there is no path.
    """
    name = label(zone["zone"], 60)
    known = [
        row
        for row in faults
        if _number(row.get("cog")) and _number(row.get("healthy_phase_kv"))
        if _impedance(row, 0) is None or (_impedance(row, 1) is not None and _impedance(row, 2) is not None)
    ]
    if not known:
        return Phasors(name, label(zone.get("substation")), label(zone.get("bus")), reason=_why_not(zone, faults))
    row = max(known, key=lambda each: (each["healthy_phase_kv"], str(each.get("condition")), str(each["bus"])))
    line_kv = row["healthy_phase_kv"] / row["cog"]
    z0 = _impedance(row, 0) or complex(math.inf, 0)
    # Without a zero-sequence path the others drop out, and need not be known.
    z1, z2 = _impedance(row, 1) or 1j, _impedance(row, 2) or 1j
    during = phase_phasors_kv(np.array([line_kv]), np.array([z1]), np.array([z2]), np.array([z0]))[0]
    return Phasors(
        name,
        label(row["substation"], 40),
        label(row["bus"], 40),
        line_kv,
        during,
        row.get("healthy_phase_kv_low"),
        row.get("healthy_phase_kv_high"),
        bool(row.get("provisional")),
    )


def _impedance(row: Mapping[str, Any], sequence: int) -> complex | None:
    r, x = row.get(f"r{sequence}_ohm"), row.get(f"x{sequence}_ohm")
    return None if r is None or x is None else complex(r, x)


def station_phasors(station: Mapping[str, Any]) -> list[Phasors]:
    """One for each zone that a bus of the station lies in, at the worst of its buses there, from its facts."""
    study = station["study"]
    zone_of = {(row["substation"], row["bus"]): row["zone"] for row in study.get("zone_bus", ())}
    faults: dict[str, list[Mapping[str, Any]]] = {}
    for row in study.get("bus_fault", ()):
        faults.setdefault(zone_of.get((row["substation"], row["bus"]), ""), []).append(row)
    return [zone_phasors(zone, faults.get(zone["zone"], ())) for zone in study.get("zone", ())]


def phasors_chart(phasors: Phasors) -> Chart | None:
    """
    The picture; None where there is nothing to draw, for which `phasors.reason` has the words.

    All are drawn alike: the frames of two differ in their description only, so that a page needs one of them.
    """
    if phasors.during_kv is None or phasors.line_kv is None:
        return None
    where = f"zone {phasors.zone}, bus {phasors.bus} of {phasors.substation}"
    lengths = np.abs(phasors.during_kv)
    description = (
        f"Phasors of the voltages to ground in {where}, {phasors.line_kv:.4g} kV. Before the fault A, B and C are "
        f"{phasors.line_kv / math.sqrt(3):.4g} kV, 120 degrees apart. With phase A at ground: B {lengths[1]:.4g} kV, "
        f"C {lengths[2]:.4g} kV, {_between(phasors.during_kv):.0f} degrees apart. {'; '.join(phasors.lines)}."
    )
    return Chart(
        name="phasors",
        title=f"Voltages to ground, {where}",
        description=description,
        rows=_rows(phasors),
        draw=_draw,
        note="Balanced before the fault, at the study's voltage and at power frequency; transients are higher."
        + (" Provisional: rests on an assumed value." if phasors.provisional else ""),
    )


def _why_not(zone: Mapping[str, Any], faults: Sequence[Mapping[str, Any]]) -> str:
    name = label(zone["zone"], 60)
    if _number(zone.get("nominal_kv")) is None:
        return f"Zone {name}: no phasors, because its nominal voltage is not on record."
    if not any(_number(row.get("x1_ohm")) for row in faults):
        return f"Zone {name}: no phasors, because the positive-sequence impedance of its buses could not be computed."
    return f"Zone {name}: no phasors, because its zero-sequence path could not be decided from what is on record."


def _number(number: Any) -> float | None:
    return float(number) if number is not None and math.isfinite(number) else None


def _or_no_limit(kv: float) -> str:
    return f"{kv:.4g} kV" if math.isfinite(kv) else "no limit"


def _per_cent(share: float) -> str:
    return f"{100 * share:.0f} %"


def _between(phases: NDArray[np.complex128]) -> float:
    """Degrees between B and C."""
    return float(abs(np.degrees(np.angle(phases[2] / phases[1]))))


def _rows(phasors: Phasors) -> list[Row]:
    """Arrows, points and words in the coordinates of the drawing: both pictures to the same scale, A upward."""
    assert phasors.during_kv is not None
    pictures = {"before": phasors.before_kv * 1j, "during": phasors.during_kv * 1j}
    everything = np.concatenate([*pictures.values(), [0, phasors.neutral_kv * 1j]])
    west, east = everything.real.min(), everything.real.max()
    south, north = everything.imag.min(), everything.imag.max()
    scale = min(1.7 / (east - west), 1.7 / (north - south))
    middle = complex((west + east) / 2, (south + north) / 2)
    rows: list[Row] = []
    for panel, across in _PANELS:
        ground = (0 - middle) * scale + across
        neutral = (np.mean(pictures[panel]) - middle) * scale + across
        tips = [(tip - middle) * scale + across for tip in pictures[panel]]
        rows += [
            {"part": "side", **_from_to(tips[each], tips[(each + 1) % 3])}
            for each in range(3)
            if panel == "before" or each == 1  # the others lie under the arrows, A being at ground
        ]
        for phase, tip, volts in zip(PHASES, tips, pictures[panel], strict=True):
            grounded = abs(volts) < 1e-9 * (phasors.line_kv or 1)
            if not grounded:
                rows.append(
                    {"part": "arrow", "phase": phase.letter, **_from_to(ground, tip), "turn": _turn(tip - ground)}
                )
            above = 0.24 if grounded else 0.12 if (tip - ground).imag >= 0 else -0.12
            words = f"{phase.letter} at ground" if grounded else f"{phase.letter}  {abs(volts):.4g} kV"
            x = min(max(tip.real, across - 0.72), across + 0.72)
            rows.append({"part": "word", "x": _place(x), "y": _place(tip.imag + above), "text": words})
        if abs(neutral - ground) > 0.05:
            rows.append({"part": "shift", **_from_to(ground, neutral), "turn": _turn(neutral - ground)})
            rows.append(_point("neutral", neutral, "N"))
        rows.append(_point("ground", ground, "G" if abs(neutral - ground) > 0.05 else "G, N"))
    rows += [
        {"part": "heading", "x": -1.2, "y": 1.2, "text": "before the fault"},
        {"part": "heading", "x": 1.2, "y": 1.2, "text": "phase A to ground"},
    ]
    lines = [
        *phasors.lines,
        "G ground, N neutral, between them the neutral shift",
        "Dotted: line voltages. Both pictures to the same scale",
    ]
    rows += [
        {"part": "line", "x": -2.25, "y": _place(-1.28 - 0.2 * place), "text": line} for place, line in enumerate(lines)
    ]
    return rows


def _place(coordinate: float) -> float:
    return round(float(coordinate), 4)


def _from_to(start: complex, end: complex) -> Row:
    return {"x": _place(start.real), "y": _place(start.imag), "x2": _place(end.real), "y2": _place(end.imag)}


def _point(name: str, at: complex, letter: str) -> Row:
    return {"part": name, "x": _place(at.real), "y": _place(at.imag), "text": letter}


def _turn(arrow: complex) -> float:
    """Degrees clockwise from upward."""
    return round(math.degrees(math.atan2(arrow.real, arrow.imag)), 2)


_HEAD = "M0,0L-0.45,1.3L0.45,1.3Z"  # its tip is where the arrow ends


def _draw(dark: bool) -> Body:
    sheet = paper(dark)
    x = {"field": "x", "type": "quantitative", "axis": None, "scale": {"domain": [-_EAST, _EAST], "nice": False}}
    y = {"field": "y", "type": "quantitative", "axis": None, "scale": {"domain": [_SOUTH, _NORTH], "nice": False}}
    place = {"x": x, "y": y}
    end = {"x2": {"field": "x2"}, "y2": {"field": "y2"}}
    letters = [phase.letter for phase in PHASES]
    color = {
        "field": "phase",
        "type": "nominal",
        "legend": None,
        "scale": {"domain": letters, "range": [phase.color(dark) for phase in PHASES]},
    }
    dash = color | {"scale": {"domain": letters, "range": [list(phase.dash) or [1, 0] for phase in PHASES]}}
    turn = {"angle": {"field": "turn", "type": "quantitative", "scale": None}}
    head = {"type": "point", "shape": _HEAD, "size": 190, "filled": True, "opacity": 1}

    def words(name: str, **mark: Any) -> Body:
        return {
            "transform": part(name),
            "mark": {"type": "text", "color": sheet.ink, **mark},
            "encoding": {**place, "text": {"field": "text"}},
        }

    def dot(name: str, shape: str, fill: str) -> Body:
        return {
            "transform": part(name),
            "mark": {"type": "point", "shape": shape, "size": 34, "fill": fill, "stroke": sheet.ink, "opacity": 1},
            "encoding": place,
        }

    return {
        "width": _WIDTH,
        "height": _HEIGHT,
        "layer": [
            {
                "transform": part("side"),
                "mark": {"type": "rule", "color": sheet.quiet_ink, "strokeDash": [1, 3], "strokeWidth": 1},
                "encoding": {**place, **end},
            },
            {
                "transform": part("shift"),
                "mark": {"type": "rule", "color": sheet.ink, "strokeWidth": 3.5, "opacity": 0.35},
                "encoding": {**place, **end},
            },
            {
                "transform": part("arrow"),
                "mark": {"type": "rule", "strokeWidth": 2},
                "encoding": {**place, **end, "color": color, "strokeDash": dash},
            },
            {"transform": part("arrow"), "mark": head, "encoding": _tip(x, y) | turn | {"color": color}},
            dot("ground", "circle", sheet.ink),
            dot("neutral", "square", sheet.ground),
            words("ground", dx=-8, dy=-6, align="right"),
            words("neutral", dx=9, dy=2, align="left"),
            words("word"),
            words("heading", fontWeight="bold"),
            words("line", align="left", limit=_WIDTH),
        ],
    }


def _tip(x: Body, y: Body) -> Body:
    return {"x": x | {"field": "x2"}, "y": y | {"field": "y2"}}
