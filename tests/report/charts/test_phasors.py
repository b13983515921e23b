"""The arrows of a zone's phasors have the lengths and angles that the study and the textbooks give."""

import cmath
import math
from typing import Any

import numpy as np
import pytest

from groundcheck.report.charts import Phasors, phasors_chart, zone_phasors
from groundcheck.report.rows import fetch
from groundcheck.store import Store

LINE_KV = 11.0
PHASE_KV = LINE_KV / math.sqrt(3)
ZONE = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1", "nominal_kv": LINE_KV}


def fault(z1: complex, z0: complex | None, healthy_pu: float) -> dict[str, Any]:
    """A row of study.bus_fault with Z2 = Z1; `healthy_pu` is what a textbook gives of the worse healthy phase."""
    healthy = healthy_pu * PHASE_KV
    return {
        "substation": "ELM",
        "bus": "B1",
        "condition": "max",
        "r1_ohm": z1.real,
        "x1_ohm": z1.imag,
        "r2_ohm": z1.real,
        "x2_ohm": z1.imag,
        "r0_ohm": None if z0 is None else z0.real,
        "x0_ohm": None if z0 is None else z0.imag,
        "healthy_phase_kv": healthy,
        "cog": healthy / LINE_KV,
    }


def arrows(phasors: Phasors, panel: str) -> dict[str, complex]:
    """The arrows as drawn in one of the two pictures, in kV: A before the fault is phase to ground, and upward."""
    chart = phasors_chart(phasors)
    assert chart
    drawn = [row for row in chart.rows if row["part"] == "arrow"]
    length = {(row["phase"], row["x"] > 0): complex(row["x2"] - row["x"], row["y2"] - row["y"]) / 1j for row in drawn}
    assert phasors.line_kv
    scale = phasors.line_kv / math.sqrt(3) / abs(length["A", False])
    return {phase: arrow * scale for (phase, right), arrow in length.items() if right == (panel == "during")}


def test_before_the_fault_the_phases_are_a_third_of_a_turn_apart_and_a_leads_b() -> None:
    before = arrows(zone_phasors(ZONE, [fault(1j, 1j, 1.0)]), "before")
    assert [abs(arrow) for arrow in before.values()] == pytest.approx([PHASE_KV] * 3, rel=1e-3)
    assert math.degrees(cmath.phase(before["B"] / before["A"])) == pytest.approx(-120, abs=0.1)


# EFF = sqrt(3) sqrt(K^2 + K + 1)/(K + 2) with K = X0/X1, pure reactances: derived from V0, V1, V2 of a line-to-ground
# fault; K = 1 gives 1.0, a solidly grounded system; K = 3, the limit of effective grounding in IEEE C62.92.1
# (recalled), 1.2490, COG 0.7211; K without bound, no path, sqrt(3).
@pytest.mark.parametrize(
    ("z0", "healthy_pu", "between"), [(1j, 1.0, 120.0), (3j, 1.24900, 87.8), (None, 1.73205, 60.0)]
)
def test_healthy_phases_have_the_lengths_and_the_angle_of_the_textbook(
    z0: complex | None, healthy_pu: float, between: float
) -> None:
    during = arrows(zone_phasors(ZONE, [fault(1j, z0, healthy_pu)]), "during")
    assert set(during) == {"B", "C"}
    assert abs(during["B"]) == pytest.approx(healthy_pu * PHASE_KV, rel=1e-3)
    assert abs(during["C"]) == pytest.approx(healthy_pu * PHASE_KV, rel=1e-3)
    assert math.degrees(abs(cmath.phase(during["C"] / during["B"]))) == pytest.approx(between, abs=0.2)


def test_resistance_raises_the_leading_phase() -> None:
    # Z1 = j1, Z0 = 10: V_c/E = a + (Z1 - Z0)/(2 Z1 + Z0), handbook of symmetrical components; worked by hand.
    k = (1j - 10) / (2j + 10)
    expected = abs(cmath.exp(2j * math.pi / 3) + k)
    phasors = zone_phasors(ZONE, [fault(1j, 10 + 0j, expected)])
    during = arrows(phasors, "during")
    assert abs(during["C"]) == pytest.approx(expected * PHASE_KV, rel=1e-3)
    assert abs(during["C"]) > abs(during["B"])
    assert phasors.lines[0].startswith("Healthy phase C: ")


def test_lines_tell_the_rise_in_kilovolts_and_per_cent() -> None:
    assert zone_phasors(ZONE, [fault(1j, None, math.sqrt(3))]).lines == [
        "Healthy phases B and C: 11 kV to ground",
        "= 173 % of nominal phase-to-ground, 100 % of line voltage",
        "Neutral shift 6.35 kV, 100 % of nominal phase-to-ground",
    ]


def test_the_worst_bus_of_the_zone_is_drawn() -> None:
    worse = fault(1j, 3j, 1.249) | {"bus": "B2"}
    assert zone_phasors(ZONE, [fault(1j, 1j, 1.0), worse]).bus == "B2"


def test_phasors_of_the_sample_fleet_equal_what_the_study_wrote(sample_store: Store) -> None:
    columns = "zone, z.substation, z.bus, z.nominal_kv"
    names = "substation bus condition r1_ohm x1_ohm r2_ohm x2_ohm r0_ohm x0_ohm healthy_phase_kv cog neutral_shift_kv"
    drawn = 0
    for zone in fetch(sample_store, f"SELECT {columns} FROM study.zone z"):
        found = fetch(
            sample_store,
            f"SELECT {', '.join('f.' + name for name in names.split())} FROM study.bus_fault f "
            "JOIN study.zone_bus USING (substation, bus) WHERE zone = ?",
            [zone[0]],
        )
        faults = [dict(zip(names.split(), row, strict=True)) for row in found]
        phasors = zone_phasors(dict(zip(("zone", "substation", "bus", "nominal_kv"), zone, strict=True)), faults)
        if phasors.during_kv is None:
            assert all(row["cog"] is None for row in faults)
            continue
        drawn += 1
        assert phasors.line_kv == pytest.approx(zone[3])
        worst = max(row["healthy_phase_kv"] for row in faults if row["healthy_phase_kv"])
        assert np.abs(phasors.during_kv).max() == pytest.approx(worst, rel=1e-9)
        row = next(each for each in faults if each["healthy_phase_kv"] == worst)
        assert abs(phasors.neutral_kv) == pytest.approx(row["neutral_shift_kv"], rel=1e-9)
        longest = max(abs(arrow) for arrow in arrows(phasors, "during").values())
        assert longest == pytest.approx(worst, rel=1e-3)
    assert drawn > 20


@pytest.mark.parametrize(
    ("zone", "faults", "reason"),
    [
        (ZONE | {"nominal_kv": None}, [], "nominal voltage is not on record"),
        (ZONE, [], "positive-sequence impedance of its buses could not be computed"),
        (ZONE, [{"bus": "B1", "x1_ohm": 1.0}], "zero-sequence path could not be decided"),
    ],
)
def test_where_nothing_could_be_computed_words_say_so(zone: Any, faults: Any, reason: str) -> None:
    phasors = zone_phasors(zone, faults)
    assert phasors_chart(phasors) is None
    assert reason in phasors.lines[0]


def test_frames_of_two_zones_differ_in_their_description_only() -> None:
    one, other = (phasors_chart(zone_phasors(ZONE, [fault(1j, z0, 1.2)])) for z0 in (1j, 3j))
    assert one
    assert other
    assert one.frame() | {"description": ""} == other.frame() | {"description": ""}
