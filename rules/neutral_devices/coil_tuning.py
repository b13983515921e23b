"""Arc-suppression coils out of tune with the charging current of their zone."""

from groundcheck.audit import Rule

COIL = {"substation": "ELM", "neutral_device": "ASC1", "kind": "arc_suppression_coil", "reactance": 100.0}
TUNING = {"substation": "ELM", "neutral_device": "ASC1", "zone": "ELM:B1", "nominal_kv": 20.0, "detuning": 0.0}
SECOND = {"neutral_device": "ASC2"}


def inventory(detuning=0.0, low=None, high=None, over=0.25, under=0.125):
    """One coil."""
    tuning = TUNING | {"detuning": detuning, "detuning_low": low, "detuning_high": high}
    return {"neutral_device": [COIL], "coil_tuning": [tuning], "policy": {"over": over, "under": under}}


RULE = Rule(
    title="The arc-suppression coil is out of tune with its zone",
    severity="medium",
    why="Out of tune, the coil leaves more current at a ground fault than an arc dies out in. With too little coil "
    "current, a feeder that is switched off also brings the zone into resonance, and the neutral rises with no fault.",
    basis="common practice, no source; IEC 60076-6 has the coil, not its setting (recalled)",
    asks="neutral_device",
    inputs=("neutral_device.reactance", "coil_tuning.detuning", "coil_tuning.charging_a"),
    policy={"over": "coil.overcompensation", "under": "coil.undercompensation"},
    query="""
        WITH tuned AS (
            SELECT d.substation, d.neutral_device, d.reactance, t.* EXCLUDE (substation, neutral_device),
                   coalesce(t.detuning, t.detuning_low)  AS least,
                   coalesce(t.detuning, t.detuning_high) AS most
            FROM inventory.neutral_device d
            LEFT JOIN study.coil_tuning t USING (substation, neutral_device)
            WHERE d.kind = 'arc_suppression_coil'
            -- The coils of a zone are one answer: at one whose size is not known, else at the first.
            QUALIFY row_number() OVER (PARTITION BY coalesce(t.zone, d.substation || ':' || d.neutral_device)
                                       ORDER BY t.coil_a IS NOT NULL, d.substation, d.neutral_device) = 1
        )
        SELECT substation, 'neutral_device' AS asset_kind, neutral_device AS asset, zone, '%' AS unit,
               CASE WHEN least >= -$under AND most <= $over THEN TRUE
                    WHEN most < -$under OR least > $over THEN FALSE END AS ok,
               100 * if(ok IS FALSE AND least > 0, least, most) AS actual,
               if(actual < 0, -100 * $under, 100 * $over)       AS required,
               100 * detuning_low AS actual_low, 100 * detuning_high AS actual_high,
               -100 * $under AS least_percent, 100 * $over AS most_percent,
               nominal_kv, reactance_ohm, coil_a, coils_a, charging_a, tuned_ohm,
               nominal_kv * 1000 / sqrt(3) / nullif(tuned_ohm, 0) AS tuned_a
        FROM tuned
    """,
    message="the coils of zone {zone}, {asset} among them, carry {coils_a} A against a charging current of "
    "{charging_a} A: {actual:+.0f} %",
    formula="-k_under <= (I_L - I_C) / I_C <= k_over, I_L = V_LL / (sqrt(3) X_L), I_C = 3I_C0",
    working="{asset}: {nominal_kv:g} kV / (sqrt(3) x {reactance_ohm} ohm) = {coil_a} A\n"
    "I_L = {coils_a} A, all coils of the zone\n"
    "I_C = {charging_a} A\n"
    "(I_L - I_C) / I_C = {actual:+.1f} %, allowed {least_percent:+g} % to {most_percent:+g} %",
    remedy="set {asset} to {tuned_ohm} ohm, {tuned_a} A, the other coils left as they are, and a few per cent "
    "more current than that",
    caution="Move taps only with the coil dead, unless its maker allows otherwise; keep the zone grounded meanwhile.",
    cannot_see="Takes the coil as set on record and all lines of the zone in service. Of a coil that tunes itself the "
    "record must give the reactance at its present setting.",
    examples={
        "satisfied: in tune": inventory(),
        "satisfied: exactly as much over as allowed": inventory(0.25),
        "exception: more over": inventory(0.26),
        "satisfied: exactly as much under as allowed": inventory(-0.125),
        "exception: more under": inventory(-0.13),
        "exception: over a narrow limit": inventory(0.1, over=0.05),
        "exception: under a narrow limit": inventory(-0.1, under=0.05),
        "satisfied: both ends within": inventory(None, -0.125, 0.25),
        "not assessable: one end over": inventory(None, 0.25, 0.3),
        "not assessable: one end under": inventory(None, -0.3, -0.125),
        "exception: both ends over": inventory(None, 0.26, 0.3),
        "exception: both ends under": inventory(None, -0.3, -0.13),
        "exception: two coils, one answer": {
            "neutral_device": [COIL, COIL | SECOND],
            "coil_tuning": [TUNING | {"detuning": 0.5, "coil_a": 50.0}, TUNING | SECOND | {"detuning": 0.5}],
        },
        "not assessable: reactance not on record": {"neutral_device": [COIL | {"reactance": None}]},
        "not assessable: charging current not known": inventory(None, -1.0, 3.0),
        "not applicable: reactor": {"neutral_device": [COIL | {"kind": "reactor"}]},
    },
)
