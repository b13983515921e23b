"""Voltage transformers in an ungrounded zone that nothing damps."""

from groundcheck.audit import Rule

VT = {
    "substation": "ELM",
    "instrument_transformer": "VT1",
    "kind": "vt",
    "bus": "B1",
    "connection": "wye, broken delta",
}
SCREEN = {"substation": "ELM", "instrument_transformer": "VT1", "zone": "ELM:B1", "to_ground": True, "ungrounded": True,
          "prone": True, "charging_a": 3.0}  # fmt: skip
LOADED = {"substation": "ELM", "instrument_transformer": "VT9", "kind": "vt", "damping_resistor": 50.0}
STATIONS = [{"substation": "ELM", "district": "North"}, {"substation": "OAK", "district": "North"},
            {"substation": "FIR", "district": "South"}]  # fmt: skip
OPEN = {"charging_a": None, "charging_a_low": 2.0, "charging_a_high": 3.0}


def inventory(kept_at="OAK", tuned=3.0, **screen):
    """One voltage transformer, and another station that has the damping resistor of its own on record."""
    vts = [VT, LOADED | {"substation": kept_at}] if kept_at else [VT]
    return {"substation": STATIONS, "instrument_transformer": vts, "ferroresonance_screen": [SCREEN | screen],
            "policy": {"tuned": tuned}}  # fmt: skip


RULE = Rule(
    title="Nothing damps a voltage transformer in an ungrounded zone",
    severity="medium",
    why="Between the voltage transformer's core and the capacitance of a small zone an oscillation can lock in. It "
    "gives false ground-fault alarms, and lasting overvoltage that burns the voltage transformer out.",
    basis="IEC TR 61869-102, ferroresonance with voltage transformers (recalled); damping of a broken delta: common "
    "practice",
    asks="instrument_transformer",
    inputs=(
        "instrument_transformer.damping_resistor",
        "ferroresonance_screen.prone",
        "ferroresonance_screen.charging_a",
    ),
    policy={"tuned": "ground_detector.ferroresonance_current"},
    query="""
        WITH kept AS (
            SELECT coalesce(s.district, i.substation) AS district
            FROM inventory.instrument_transformer i LEFT JOIN inventory.substation s USING (substation)
            WHERE i.damping_resistor IS NOT NULL GROUP BY ALL
        )
        SELECT f.substation, 'instrument_transformer' AS asset_kind, f.instrument_transformer AS asset, f.zone,
               f.connection,
               coalesce(f.charging_a, f.charging_a_low)   AS least_a,
               coalesce(f.charging_a, f.charging_a_high)  AS most_a,
               $tuned                                     AS required,
               'A'                                        AS unit,
               -- Where a district has no damping resistor on record, that this one has none says nothing.
               k.district IS NOT NULL                     AS kept,
               CASE WHEN NOT f.prone OR least_a > required THEN TRUE
                    WHEN f.prone AND most_a <= required AND kept THEN FALSE END AS ok,
               if(ok IS FALSE, most_a, least_a)           AS actual,
               f.charging_a_low AS actual_low, f.charging_a_high AS actual_high
        FROM study.ferroresonance_screen f
        LEFT JOIN inventory.substation s USING (substation)
        LEFT JOIN kept k ON k.district = coalesce(s.district, f.substation)
    """,
    message="{asset} ({connection}) stands between line and ground in the ungrounded zone {zone}, which has "
    "{actual:.2g} A of charging current; no damping resistor is on record",
    formula="I_C > I_F, beyond which X_C0 / X_m is too small for ferroresonance",
    working="I_C of the zone = {actual} A\nI_F = {required:g} A\ndamping resistor: none on record",
    remedy="a damping resistor across the broken delta, within the thermal rating of its windings; customary are 25 to "
    "175 ohm at 120 V secondaries",
    caution="A resistor that is too small burns the windings out in a standing ground fault: check (3V0)^2 / R first.",
    cannot_see="Where the charging current is large, screens by it alone. Whether an oscillation locks in depends on "
    "core and switching as well.",
    examples={
        "exception: exactly the current up to which it is in tune": inventory(),
        "satisfied: 3.1 A": inventory(charging_a=3.1),
        "exception: 0.2 A": inventory(charging_a=0.2),
        "satisfied: 3 A, in tune up to 2 A": inventory(tuned=2.0),
        "satisfied: not prone": inventory(prone=False),
        "exception: at most what is in tune": inventory(**OPEN),
        "not assessable: perhaps more than what is in tune": inventory(**OPEN | {"charging_a_high": 3.1}),
        "not assessable: at least exactly what is in tune": inventory(
            charging_a=None, charging_a_low=3.0, charging_a_high=9.0
        ),
        "satisfied: at least more than that": inventory(charging_a=None, charging_a_low=3.1),
        "not assessable: connection not on record": inventory(prone=None),
        "not assessable: charging current not computed": inventory(charging_a=None),
        "not assessable: its district has no damping resistor on record": inventory("FIR"),
        "not applicable: grounded zone": {"instrument_transformer": [VT]},
    },
)
