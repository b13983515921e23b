"""Resonant zones with more residual current than an arc dies out in, or with their neutral high without a fault."""

from math import inf

from groundcheck.audit import Rule

COIL = {"substation": "ELM", "neutral_device": "ASC1", "kind": "arc_suppression_coil", "reactance": 78.0}
# 10 kV line to neutral; handbook's zone of 272.07 A, 5 % off tune with 2 % damping: 272.07 x |0.02 + j0.05| = 14.651 A
TUNING = {"substation": "ELM", "neutral_device": "ASC1", "zone": "ELM:B1", "nominal_kv": 10 * 3**0.5,
          "charging_a": 272.07, "detuning": 0.05, "damping": 0.02, "residual_a": 14.651, "neutral_kv": 2.0}  # fmt: skip
BLANK = {"residual_a": None, "neutral_kv": None}
BOUNDS = BLANK | {"residual_a_low": 10.0, "residual_a_high": 20.0, "neutral_kv_low": 1.0, "neutral_kv_high": 2.0}
LIMITS = {"residual": 20.0, "high_voltage_residual": 40.0, "high_voltage": 60.0, "share": 0.2}


def inventory(tuning=None, kind="arc_suppression_coil", **limits):
    """A coil, and what it leaves."""
    return {
        "neutral_device": [COIL | {"kind": kind}],
        "coil_tuning": [TUNING | (tuning or {})],
        "policy": LIMITS | {"share": 0.2 + 1e-9} | limits,
    }


RULE = Rule(
    title="The resonant zone leaves more current at a fault, or more neutral voltage without one, than it may",
    severity="medium",
    why="Above that residual current a ground-fault arc in air no longer dies out by itself, and burns on until "
    "somebody finds it. A neutral that is high without a fault strains all phases and reads as a ground fault.",
    basis="DIN VDE 0845-6-2 (formerly 0228-2), 60 A at 10 to 20 kV and 132 A at 110 kV (recalled); Kasikci, Short "
    "Circuits in Power Systems, section 7; neutral voltage: common practice, no source",
    asks="neutral_device",
    inputs=(
        "neutral_device.reactance",
        "coil_tuning.residual_a",
        "coil_tuning.neutral_kv",
        "coil_tuning.charging_a",
        "coil_tuning.nominal_kv",
    ),
    policy={
        "residual": "coil.residual",
        "high_voltage": "coil.high_voltage",
        "high_voltage_residual": "coil.high_voltage_residual",
        "share": "coil.neutral_share",
    },
    query="""
        WITH coil AS (
            SELECT d.substation, d.neutral_device, t.* EXCLUDE (substation, neutral_device)
            FROM inventory.neutral_device d
            LEFT JOIN study.coil_tuning t USING (substation, neutral_device)
            WHERE d.kind = 'arc_suppression_coil'
            -- The coils of a zone are one answer: at one whose size is not known, else at the first.
            QUALIFY row_number() OVER (PARTITION BY coalesce(t.zone, d.substation || ':' || d.neutral_device)
                                       ORDER BY t.coil_a IS NOT NULL, d.substation, d.neutral_device) = 1
        ),
        compared AS (
            SELECT *, 'residual current' AS item, 'A' AS unit, residual_a AS known,
                   residual_a_low AS least, residual_a_high AS most, 'coil_tuning.residual_a' AS rests_on,
                   if(nominal_kv > $high_voltage, $high_voltage_residual, $residual) AS within
            FROM coil
            UNION ALL
            SELECT *, 'neutral voltage', 'kV', neutral_kv, neutral_kv_low, neutral_kv_high, 'coil_tuning.neutral_kv',
                   $share * nominal_kv / sqrt(3)
            FROM coil
        )
        SELECT substation, 'neutral_device' AS asset_kind, neutral_device AS asset, item, zone, unit,
               if(nominal_kv IS NULL, NULL, within) AS required,
               CASE WHEN coalesce(known, most) <= required THEN TRUE
                    WHEN coalesce(known, least) > required THEN FALSE END AS ok,
               if(ok IS FALSE, coalesce(known, least), coalesce(known, most)) AS actual,
               least AS actual_low, most AS actual_high,
               if(item = 'neutral voltage', 'neutral voltage without a fault', 'residual current') AS what,
               nominal_kv, charging_a, 100 * detuning AS detuning_percent, 100 * damping AS damping_percent,
               nominal_kv * 1000 / sqrt(3) / nullif(tuned_ohm, 0) AS tuned_a,
               ['neutral_device.reactance', rests_on, 'coil_tuning.nominal_kv'] AS needs
        FROM compared
    """,
    message="zone {zone}, {nominal_kv} kV: {what} {actual} {unit}, customary is {required} {unit} or less",
    formula="I_res = I_C |d + j v| <= I_limit; V_N = V_LN k / |d + j v| <= s V_LN",
    working="I_C = {charging_a} A\n"
    "v = (I_L - I_C) / I_C = {detuning_percent:+.1f} %\n"
    "d, resistive share = {damping_percent} %\n"
    "{what} = {actual} {unit}\n"
    "limit = {required} {unit}",
    remedy="residual current: bring {asset} into tune at {tuned_a} A, or split the zone; neutral voltage: "
    "transpose or balance the lines, or take the coil a few per cent further from tune",
    caution="While a fault stands, step and touch voltages at it remain: keep people away until it is found.",
    cannot_see="The resistive share and the unbalance of the capacitances are on no record; both are assumed, and "
    "measured values decide. Harmonics, which a coil does not compensate, come on top.",
    examples={
        "satisfied: 14.7 A and 2 kV": inventory(),
        "satisfied: exactly the residual current": inventory({"residual_a": 20.0}),
        "exception: above both": inventory({"residual_a": 20.1, "neutral_kv": 2.1}),
        "satisfied: wider limits": inventory({"residual_a": 20.1, "neutral_kv": 2.1}, residual=30.0, share=0.3),
        "satisfied: at 110 kV exactly its own limit": inventory({"residual_a": 40.0, "nominal_kv": 110.0}),
        "exception: at 110 kV above it": inventory({"residual_a": 40.1, "nominal_kv": 110.0, "neutral_kv": 50.0}),
        "satisfied: at 110 kV within a wider one": inventory(
            {"residual_a": 50.0, "nominal_kv": 110.0}, high_voltage_residual=50.0
        ),
        "exception: exactly at the border, the lower limit": inventory(
            {"residual_a": 30.0, "nominal_kv": 60.0, "neutral_kv": 50.0}
        ),
        "satisfied: just above the border": inventory({"residual_a": 30.0, "nominal_kv": 60.1}),
        "satisfied: both ends within": inventory(BOUNDS),
        "not assessable: the upper ends beyond": inventory(BOUNDS, residual=10.0, share=0.1),
        "exception: both ends beyond": inventory(BOUNDS, residual=9.9, share=0.09),
        "not assessable: reactance not on record": inventory(
            BLANK | {"residual_a_low": 0.0, "residual_a_high": inf, "neutral_kv_low": 0.0, "neutral_kv_high": inf}
        ),
        "not assessable: voltage not known": inventory({"nominal_kv": None}),
        "not assessable: tuning not computed": {"neutral_device": [COIL]},
        "not applicable: reactor": inventory(kind="reactor"),
    },
)
