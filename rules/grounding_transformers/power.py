"""Grounding transformers whose rated power is too small for the ground-fault duty, however the figure is read."""

from groundcheck.audit import Rule

BANK = {"substation": "ELM", "grounding_transformer": "GT1", "bus": "B1", "rated_power": 332.0}
# Zigzag, 13.8 kV, 400 A for 1 min: 0.104 x 13.8 kV / sqrt(3) x 400 A = 331.4 kVA, Westinghouse T&D Reference Book.
SIZE = {"substation": "ELM", "grounding_transformer": "GT1", "zone": "ELM:B1", "nominal_kv": 13.8, "current_a": 400.0,
        "duration_s": 60.0, "duty_factor": 0.104, "kva_needed": 331.4}  # fmt: skip
BOUNDS = SIZE | {"kva_needed": None, "kva_needed_low": 300.0, "kva_needed_high": 332.0}


def inventory(rated_power=332.0, size=SIZE, margin=1.0, neutral=None):
    """One grounding transformer, and the power that it needs."""
    bank = BANK | {"rated_power": rated_power, "rated_neutral_current": neutral}
    return {
        "grounding_transformer": [bank],
        "grounding_transformer_size": [size],
        "policy": {"margin": margin},
    }


RULE = Rule(
    title="The grounding transformer's rated power is too small for its ground-fault duty",
    severity="high",
    why="The bank carries the zone's ground-fault current until it is cleared. Too small it fails, often with its "
    "tank, and the zone has then lost its only ground with the fault still on it.",
    basis="Westinghouse Electrical Transmission and Distribution Reference Book, continuous rating that bears a short "
    "duty (as quoted); IEEE C57.32, short-time rating (clause recalled)",
    asks="grounding_transformer",
    inputs=("grounding_transformer.rated_power", "grounding_transformer_size.kva_needed"),
    policy={"margin": "grounding_transformer.current_margin"},
    query="""
        SELECT g.substation, 'grounding_transformer' AS asset_kind, g.grounding_transformer AS asset, s.zone,
               g.rated_power AS actual,
               'kVA'         AS unit,
               CASE WHEN actual >= coalesce(s.kva_needed, s.kva_needed_high) * $margin THEN TRUE
                    WHEN actual < coalesce(s.kva_needed, s.kva_needed_low) * $margin THEN FALSE END AS ok,
               if(ok IS FALSE, coalesce(s.kva_needed, s.kva_needed_low),
                  coalesce(s.kva_needed, s.kva_needed_high)) AS needed_kva,
               needed_kva * $margin         AS required,
               s.kva_needed_low * $margin   AS required_low,
               s.kva_needed_high * $margin  AS required_high,
               s.nominal_kv, s.current_a, s.duration_s, s.duty_factor,
               ceil(coalesce(s.kva_needed, s.kva_needed_high) * $margin)  AS continuous_kva,
               ceil(s.nominal_kv / sqrt(3) * s.current_a * $margin)       AS short_time_kva
        FROM inventory.grounding_transformer g
        LEFT JOIN study.grounding_transformer_size s USING (substation, grounding_transformer)
        -- Where the neutral current is on record, a blank power is not missed.
        WHERE g.rated_power IS NOT NULL OR g.rated_neutral_current IS NULL
    """,
    message="{asset} is rated {actual} kVA; even as a continuous rating its ground-fault duty needs {required} kVA",
    formula="S_rated >= k K(t) V_LL I_n / sqrt(3), K from the table of short duties; short-time reading: K = 1",
    working="V_LL I_n / sqrt(3) = {nominal_kv:g} kV x {current_a} A / sqrt(3)\n"
    "K = {duty_factor} for {duration_s} s\n"
    "K V_LL I_n / sqrt(3) = {needed_kva} kVA, k = {margin:g}: {required} kVA\n"
    "S_rated = {actual} kVA, on the nameplate",
    remedy="a grounding transformer of {continuous_kva:g} kVA continuous or more, which is {short_time_kva:g} kVA for "
    "{duration_s} s",
    caution="Taking it out of service ungrounds the zone: clear or reground the zone first.",
    cannot_see="A nameplate may give the continuous or the short-time rating, and the latter by line-to-neutral or "
    "line-to-line voltage. An exception is too small by each of these; a satisfied one may still be a short-time "
    "rating that is too small, which its rated neutral current would tell.",
    examples={
        "satisfied: 332 kVA where 331.4 are needed": inventory(),
        "satisfied: exactly what is needed": inventory(331.4),
        "exception: 300 kVA": inventory(300.0),
        "exception: met, the margin not": inventory(margin=1.1),
        "satisfied: exactly the most that the record allows": inventory(size=BOUNDS),
        "not assessable: exactly the least that the record allows": inventory(300.0, BOUNDS),
        "exception: below the least that the record allows": inventory(299.0, BOUNDS),
        "exception: a short-time rating above the need is none below it": inventory(100.0, neutral=400.0),
        "not assessable: neither power nor current on record": inventory(None),
        "not assessable: duty not computed": {"grounding_transformer": [BANK]},
        "not applicable: neutral current on record instead": inventory(None, neutral=400.0),
    },
)
