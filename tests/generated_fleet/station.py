"""One station under construction: its records, complete, in the canonical tables and units."""

from dataclasses import dataclass, field
from datetime import date, timedelta
from math import inf, sqrt
from typing import Any

import numpy as np
from generated_fleet import sizing

Rows = dict[str, list[dict[str, Any]]]
TODAY = date.today()
RUNS_ON = inf


@dataclass
class Bus:
    """What is planned for a bus: how long a ground fault stands, the healthy phases' voltage, the fault currents."""

    tag: str
    kv: float
    highest: float
    clearing: float
    factor: float
    mva: float
    ground_ka: float

    @property
    def runs_on(self) -> bool:
        """Whether the zone runs on through a ground fault."""
        return self.clearing == RUNS_ON

    @property
    def strap_ka(self) -> float:
        """The most that a strap there carries: a ground fault, or a second one where the first stands."""
        return max(self.ground_ka, sizing.infeed_ka(self.mva, self.kv)) if self.runs_on else self.ground_ka


@dataclass
class Station:
    """A station: `kind` names the sort, `rows` are its records; `others` are stations at the far ends of its lines."""

    code: str
    kind: str
    rng: np.random.Generator
    hz: float = 50.0
    rows: Rows = field(default_factory=dict)
    buses: dict[str, Bus] = field(default_factory=dict)
    equipment: list[tuple[str, str]] = field(default_factory=list)
    others: list["Station"] = field(default_factory=list)

    def between(self, low: float, high: float, digits: int = 3) -> float:
        """A number of that range, as a nameplate writes it."""
        return float(f"{self.rng.uniform(low, high):.{digits}g}")

    def pick(self, *choices: Any) -> Any:
        """One of several."""
        return choices[int(self.rng.integers(len(choices)))]

    def days_ago(self, least: int = 20, most: int = 300) -> date:
        """A day not long ago."""
        return TODAY - timedelta(days=int(self.rng.integers(least, most)))

    def add(self, table: str, tag: str, **fields: Any) -> str:
        """A record; what is None is left blank."""
        row = {"substation": self.code, table: tag} | {k: v for k, v in fields.items() if v is not None}
        self.rows.setdefault(table, []).append(row)
        return tag

    def bus(
        self, tag: str, kv: float, grounding: str | None, clearing: float, factor: float, mva: float, ground_ka: float,
        limit: float | None = None, wire: str = "none",
    ) -> Bus:  # fmt: skip
        """
        A bus; `clearing` RUNS_ON where a ground fault may stand.

        factor : healthy-phase voltage over line-to-neutral voltage that its equipment is chosen for.
        """
        highest, _, _ = sizing.class_of(kv, self.hz)
        runs_on = clearing == RUNS_ON
        self.add(
            "bus", tag, nominal_voltage=kv, highest_voltage=highest, declared_grounding=grounding,
            continuity_required=runs_on, ground_fault_clearing_time=None if runs_on else clearing,
            ground_fault_limit=limit, neutral_wire=wire,
        )  # fmt: skip
        self.buses[tag] = Bus(tag, kv, highest, clearing, factor, mva, ground_ka)
        return self.buses[tag]

    def infeed(self, bus: str, mva: float, ground_share: float | None) -> None:
        """A supply; `ground_share` is its line-to-ground over its three-phase current, None: it is not grounded."""
        weakest, kv = self.between(0.6, 0.8), self.buses[bus].kv
        ka = sizing.infeed_ka(mva, kv)
        given = {"grounded": ground_share is not None}
        if ground_share is not None:
            given |= {"fault_current_1ph": ground_share * ka, "fault_current_1ph_min": ground_share * weakest * ka}
        ratio = self.between(8, 15)
        self.add(
            "infeed", f"Q {bus}", bus=bus, fault_level_3ph=mva, x_over_r=ratio, fault_level_3ph_min=mva * weakest,
            x_over_r_min=ratio, r0_over_x0=20.0 if (ground_share or 1.0) < 0.3 else round(1 / ratio, 3), **given,
        )  # fmt: skip

    def transformer(self, tag: str, hv: str, lv: str, mva: float, group: str, percent: float, **more: Any) -> str:
        """A transformer between two buses, bonded to the mat."""
        fields = {"core_form": "five_limb", "z0": round(percent * self.between(0.9, 1.0), 2),
                  "x_over_r": self.between(15, 30), "graded_neutral": False}  # fmt: skip
        self.equipment.append((tag, "transformer"))
        return self.add(
            "transformer", tag, hv_bus=hv, lv_bus=lv, rated_power=mva, hv_voltage=self.buses[hv].kv,
            lv_voltage=self.buses[lv].kv, vector_group=group, impedance=percent, **(fields | more),
        )  # fmt: skip

    def solid(self, tag: str, of: str, winding: str) -> str:
        """A neutral on the mat."""
        return self.add("neutral_device", tag, connected_to=[of], winding=winding, kind="solid")

    def resistor(self, tag: str, of: str | list[str], winding: str | None, bus: str, amperes: float,
                 seconds: float) -> str:  # fmt: skip
        """A resistor that passes this current at line-to-neutral voltage, with its element and enclosure measured."""
        kv = self.buses[bus].kv
        ohm = round(sizing.resistor_ohm(kv, amperes), 3)
        several = of if isinstance(of, list) else [of]
        self.equipment.append((tag, "neutral_device"))
        self.add(
            "neutral_device", tag, connected_to=several, winding=winding, kind="resistor", resistance=ohm,
            rated_voltage=round(sizing.phase(kv) * 1.03, 3), rated_current=round(amperes * 1.06, 2), rated_time=seconds,
            continuous_current=round(amperes * (1.06 if seconds == inf else 0.12), 2),
            measured_resistance=round(ohm * self.between(0.98, 1.03), 3), measured_on=self.days_ago(), monitored=True,
            insulation_bil=sizing.class_of(kv, self.hz)[2],
        )  # fmt: skip
        self.inspected(tag, "resistor_measurement", ohm, "ohm")
        return tag

    def feeder(self, tag: str, bus: str, km: float, construction: str, pickup: float | None, **relay: Any) -> float:
        """A radial feeder with its ground relay, and its zero-sequence capacitance in nF."""
        cable = construction == "cable"
        c0 = self.between(200, 300) if cable else self.between(4, 6)
        r1 = self.between(0.1, 0.2)
        self.add(
            "line", tag, from_bus=bus, length=km, construction=construction, r1=r1,
            x1=0.11 if cable else self.between(0.3, 0.4), r0=round(r1 + (0.4 if cable else 0.15), 3),
            x0=0.2 if cable else self.between(1.0, 1.4), c0=c0,
        )  # fmt: skip
        if pickup is not None:
            self.relay(f"R {tag}", "51N", tag, pickup, 0.3, **relay)
        return c0 * km

    def relay(self, tag: str, function: str, measures: str, pickup: float, seconds: float, **more: Any) -> str:
        """A relay of definite time that trips; `action="alarm"` for one that tells."""
        fields: dict[str, Any] = {"curve": "definite_time", "definite_time": seconds, "action": "trip"}
        if not function.startswith(("59", "27", "64")):
            fields |= {"ct_primary": sizing.next_up(sizing.CT_PRIMARIES, pickup * 4), "ct_secondary": 1.0}
        fields |= more
        if fields["action"] == "trip":
            fields |= {"breaker_time": 0.06}
        return self.add(
            "ground_relay", tag, function=function, measures=measures, pickup=float(f"{pickup:.4g}"), **fields
        )

    def inspected(self, asset: str, kind: str, value: float | None = None, unit: str | None = None) -> None:
        """An inspection, passed not long ago."""
        number = len(self.rows.get("inspection", [])) + 1
        self.add(
            "inspection", f"I{number}", asset=asset, date=self.days_ago(), inspector="M. Vane", kind=kind, value=value,
            unit=unit, outcome="passed", remark="in order",
        )  # fmt: skip

    def voltage_transformer(self, bus: str) -> str:
        """Three units between line and ground, with a broken delta; damped where nothing grounds the zone."""
        plan = self.buses[bus]
        grounded = plan.factor < 1.45
        factor, seconds = (1.5, 30.0) if grounded else (1.9, 28800.0 if plan.runs_on else 30.0)
        tag = self.add(
            "instrument_transformer", f"VT {bus}", kind="vt", bus=bus, connection="wye-ground, broken delta",
            primary=plan.kv * 1e3, secondary=110.0 if self.hz == 50.0 else 120.0, voltage_factor=factor,
            voltage_factor_time=seconds, damping_resistor=self.pick(40.0, 50.0, 60.0),
        )  # fmt: skip
        self.circuit(f"{tag} sec", "vt", tag)
        return tag

    def circuit(self, tag: str, kind: str, of: str) -> str:
        """A secondary circuit, grounded at the relay panel only."""
        return self.add(
            "secondary_circuit", tag, kind=kind, instrument_transformer=of, ground_points="relay panel",
            conductor_area=4.0 if kind == "ct" else 2.5, length=self.between(20, 80, 2),
        )  # fmt: skip

    def detector(self, bus: str, vt: str, relay: str) -> None:
        """Ground detection by a broken delta."""
        self.add("ground_detector", f"GD {bus}", bus=bus, method="broken_delta", instrument_transformer=vt, relay=relay)


def strap(kiloamperes: float, seconds: float, x_over_r: float, hz: float, share: float, limit_c: float) -> float:
    """A standard area of soft copper for a share of a fault current, with a quarter to spare."""
    current = kiloamperes * sizing.decrement(seconds, x_over_r, hz) * share
    return sizing.next_up(sizing.COPPER_AREAS, 1.25 * sizing.fusing_mm2(current, seconds, limit_c))


def side(area: float) -> float:
    """Side of a square."""
    return sqrt(area)
