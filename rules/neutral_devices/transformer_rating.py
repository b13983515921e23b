"""Distribution transformers in a neutral that are too small for the ground-fault current and its time."""

from math import inf

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NGT1", "kind": "distribution_transformer", "rated_power": 25.0,
          "primary_voltage": 18000.0}  # fmt: skip
# Blackburn and Domin's generator of 18 kV: 6.2117 A through 18 kV for 1 min, 4.7 times its rating, need 23.79 kVA.
NEED = {"substation": "ELM", "generator": "G1", "device_substation": "ELM", "neutral_device": "NGT1",
        "resistor_a": 6.2117, "duration_s": 60.0, "kva_needed": 23.79}  # fmt: skip
BOUNDS = NEED | {"kva_needed": None, "kva_needed_low": 20.0, "kva_needed_high": 25.0}
DUTY = {"substation": "ELM", "neutral_device": "NGT1", "current_a": 2.0, "duration_s": inf}


def inventory(*needs, margin=1.0, duty=DUTY, **fields):
    """A distribution transformer in the neutral of a generator, or of none."""
    return {
        "neutral_device": [DEVICE | fields],
        "generator_grounding": needs,
        "neutral_duty": [duty],
        "policy": {"margin": margin},
    }


RULE = Rule(
    title="The distribution transformer in the neutral is too small for the ground-fault duty",
    severity="high",
    why="It carries the ground-fault current until the unit is tripped. Too small it burns out with the fault still "
    "on, the neutral is then open, and an arcing ground fault in the machine meets no damping.",
    basis="IEEE C37.101, short-time overload of distribution transformers: 10.5 times its rating for 10 s, 4.7 for "
    "1 min, 2.6 for 10 min (recalled)",
    asks="neutral_device",
    inputs=(
        "neutral_device.rated_power",
        "neutral_device.primary_voltage",
        "generator_grounding.kva_needed",
        "neutral_duty.current_a",
    ),
    policy={"margin": "neutral_device.current_margin"},
    query="""
        WITH need AS (
            SELECT d.substation, d.neutral_device, d.rated_power, d.primary_voltage / 1000 AS volts_kv,
                   g.generator, g.substation AS generator_substation,
                   if(g.generator IS NULL, u.duration_s, g.duration_s)               AS duration_s,
                   if(g.generator IS NULL, coalesce(u.current_a, u.current_a_high), g.resistor_a) AS through_a,
                   if(g.generator IS NULL, volts_kv * u.current_a, g.kva_needed)           AS kva,
                   if(g.generator IS NULL, volts_kv * u.current_a_low, g.kva_needed_low)   AS kva_low,
                   if(g.generator IS NULL, volts_kv * u.current_a_high, g.kva_needed_high) AS kva_high
            FROM inventory.neutral_device d
            LEFT JOIN study.neutral_duty u USING (substation, neutral_device)
            LEFT JOIN study.generator_grounding g
                   ON g.device_substation = d.substation AND g.neutral_device = d.neutral_device
            -- Not behind a generator, it is asked where the fault stands: what it bears then is its rating.
            WHERE d.kind = 'distribution_transformer' AND (g.generator IS NOT NULL OR isinf(u.duration_s))
            -- Shared by several generators: the one that needs most.
            QUALIFY row_number() OVER (PARTITION BY d.substation, d.neutral_device
                                       ORDER BY kva DESC NULLS FIRST, g.substation, g.generator) = 1
        )
        SELECT substation, 'neutral_device' AS asset_kind, neutral_device AS asset, 'kVA' AS unit,
               generator, generator_substation, neutral_device,
               rated_power AS actual,
               CASE WHEN actual >= coalesce(kva, kva_high) * $margin THEN TRUE
                    WHEN actual < coalesce(kva, kva_low) * $margin THEN FALSE END AS ok,
               if(ok IS FALSE, coalesce(kva, kva_low), coalesce(kva, kva_high)) AS needed_kva,
               needed_kva * $margin AS required, kva_low * $margin AS required_low, kva_high * $margin AS required_high,
               volts_kv, through_a, duration_s,
               volts_kv * through_a / nullif(needed_kva, 0) AS multiple,
               ceil(coalesce(kva, kva_high) * $margin) AS kva_enough,
               ['neutral_device.rated_power', 'neutral_device.primary_voltage',
                if(generator IS NULL, 'neutral_duty.current_a', 'generator_grounding.kva_needed')] AS needs
        FROM need
    """,
    message="{asset} is rated {actual} kVA; its ground-fault duty needs {required} kVA",
    formula="S_rated >= k V_p I / m(t), m the multiple of its rating that it bears for the time t",
    working="V_p I = {volts_kv} kV x {through_a} A\n"
    "t = {duration_s} s, m(t) = {multiple}\n"
    "V_p I / m = {needed_kva} kVA, k = {margin:g}: {required} kVA\n"
    "S_rated = {actual} kVA, on the nameplate",
    remedy="a distribution transformer of {kva_enough:g} kVA or more at that primary voltage, or a faster trip",
    caution="Work on it only with the unit at a standstill and its field breaker open: its primary is the neutral of "
    "the machine.",
    cannot_see="A transformer that is not in the neutral of a generator is asked where the fault stands, and not where "
    "it is cleared. Assumes an oil-filled unit; dry ones bear less overload.",
    examples={
        "satisfied: 25 kVA where 23.79 are needed": inventory(NEED),
        "satisfied: exactly what is needed": inventory(NEED, rated_power=23.79),
        "exception: 15 kVA": inventory(NEED, rated_power=15.0),
        "exception: met, the margin not": inventory(NEED, margin=1.1),
        "satisfied: exactly the most that the record allows": inventory(BOUNDS),
        "not assessable: exactly the least that the record allows": inventory(BOUNDS, rated_power=20.0),
        "exception: below the least that the record allows": inventory(BOUNDS, rated_power=19.9),
        "exception: of two generators, one needs more": inventory(NEED, NEED | {"generator": "G2", "kva_needed": 30.0}),
        "exception: in the neutral of a transformer, the zone runs on": inventory(rated_power=35.9),
        "satisfied: exactly V_p I": inventory(rated_power=36.0),
        "not assessable: rating not on record": inventory(NEED, rated_power=None),
        "not assessable: time not known": inventory(BOUNDS | {"kva_needed_low": 2.0, "kva_needed_high": 99.0}),
        "not assessable: current not known": inventory(duty=DUTY | {"current_a": None}),
        "not applicable: in the neutral of a transformer, cleared in 1 s": inventory(duty=DUTY | {"duration_s": 1.0}),
        "not applicable: resistor": inventory(NEED, kind="resistor"),
    },
)
