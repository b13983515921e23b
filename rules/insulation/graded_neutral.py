"""Graded transformers whose neutral is not solidly grounded."""

from groundcheck.audit import Rule

T1 = {"substation": "ELM", "transformer": "T1", "graded_neutral": True, "vector_group": "YNd1"}
POINT = {"substation": "ELM", "asset_kind": "transformer", "asset": "T1", "winding": "hv", "connection": "YN",
         "has_neutral": True, "bus": "B1", "zone": "ELM:B1", "winding_kv": 110.0}  # fmt: skip
LV = POINT | {"winding": "lv", "treatment": "solid", "bus": "B2"}
GENERATOR = POINT | {"asset_kind": "generator", "treatment": "solid"}


def inventory(treatment=None, *more, transformer=T1, **point):
    """A transformer and what stands in its HV neutral; its LV neutral is solidly grounded."""
    points = [POINT | {"treatment": each, "neutral_device": each} | point for each in (treatment, *more)]
    stress = {"substation": "ELM", "bus": "B1", "ratio": 1.1, "nominal_kv": 110.0}
    fault = {"substation": "ELM", "bus": "B1", "condition": "max", "neutral_shift_kv": 30.0}
    return {"transformer": [transformer], "neutral": [*points, LV, GENERATOR], "bus_stress": [stress],
            "bus_fault": [fault, fault | {"condition": "min"}]}  # fmt: skip


RULE = Rule(
    title="A neutral of reduced insulation is not solidly grounded",
    severity="high",
    why="The neutral end of a graded winding is insulated for a neutral that stays at ground. Open, behind an arrester "
    "or an impedance it rises in every ground fault, up to line-to-neutral voltage where nothing else grounds the "
    "zone, and the winding breaks down inside the tank.",
    basis="IEEE C57.12.00 and IEC 60076-3, reduced neutral insulation for solidly grounded neutrals (clauses recalled)",
    asks="transformer",
    inputs=(
        "transformer.graded_neutral",
        "transformer.hv_neutral",
        "transformer.vector_group",
        "transformer.neutral_bil",
        "neutral.treatment",
        "bus_fault.neutral_shift_kv",
    ),
    query="""
        WITH point AS (
            SELECT substation, asset AS transformer, min(bus) AS bus, min(zone) AS zone, min(connection) AS connection,
                   string_agg(DISTINCT treatment, ', ')  AS treatments,
                   -- A star point that is not brought out is grounded by nothing; one of several devices is enough.
                   CASE WHEN bool_or(treatment = 'solid') THEN TRUE
                        WHEN count(treatment) > 0 OR bool_and(has_neutral IS FALSE) THEN FALSE END AS solid
            FROM study.neutral
            WHERE asset_kind = 'transformer' AND winding = 'hv'
            GROUP BY ALL
        )
        SELECT t.substation, 'transformer' AS asset_kind, t.transformer AS asset, p.bus, p.zone, 'max' AS condition,
               'hv'                                                          AS winding,
               coalesce(replace(p.treatments, '_', ' '), 'no device')        AS actual,
               'solid'                                                       AS required,
               ''                                                            AS unit,
               p.solid                                                       AS ok,
               s.nominal_kv * coalesce(s.ratio, s.ratio_high) / sqrt(3)      AS ln_kv,
               f.neutral_shift_kv * coalesce(s.ratio, s.ratio_high)          AS shift_kv,
               coalesce(s.grounding_class, 'not known')                      AS grounding_class,
               ['transformer.hv_neutral', 'transformer.vector_group']        AS needs
        FROM inventory.transformer t
        LEFT JOIN point p USING (substation, transformer)
        LEFT JOIN study.bus_stress s
               ON s.substation || ':' || s.bus = if(contains(p.bus, ':'), p.bus, t.substation || ':' || p.bus)
        LEFT JOIN study.bus_fault f ON f.substation = s.substation AND f.bus = s.bus AND f.condition = 'max'
        -- A withstand on record is weighed by its own rule.
        WHERE t.graded_neutral AND t.neutral_bil IS NULL AND p.connection IS DISTINCT FROM 'D'
    """,
    message="{asset} has reduced insulation at its HV neutral, which is not solidly grounded ({actual}); a ground "
    "fault at bus {bus} raises it by up to {shift_kv} kV",
    working="HV neutral: {actual}; required: {required}\n"
    "zero-sequence voltage of a ground fault at bus {bus}: {shift_kv} kV at highest voltage\n"
    "where nothing else grounds the zone (now: {grounding_class}): line-to-neutral voltage, {ln_kv} kV",
    remedy="a solid ground at the HV neutral of {asset}, its effect on ground-fault currents studied; or the neutral's "
    "impulse withstand on record, proved for {ln_kv} kV, with an arrester at the neutral",
    caution="An ungrounded neutral can be at line-to-neutral voltage without warning: isolate and prove dead first.",
    cannot_see="Takes a neutral for grounded as recorded; a neutral that switching opens at times is not seen. How far "
    "the insulation is reduced is not on record.",
    examples={
        "exception: open": inventory("open"),
        "exception: an arrester only": inventory("surge_arrester"),
        "exception: a resistor": inventory("resistor"),
        "satisfied: a solid link": inventory("solid"),
        "satisfied: a solid link beside an arrester": inventory("surge_arrester", "solid"),
        "exception: the neutral is not brought out": inventory(has_neutral=False, connection="Y"),
        "not assessable: what stands in the neutral is not on record": inventory(),
        "not assessable: the vector group is not on record": inventory(has_neutral=None, connection=None),
        "not assessable: the winding is not on record": {"transformer": [T1]},
        "not applicable: a delta winding": inventory(has_neutral=False, connection="D"),
        "not applicable: full insulation": inventory("open", transformer=T1 | {"graded_neutral": False}),
        "not applicable: not said to be graded": inventory("open", transformer=T1 | {"graded_neutral": None}),
        "not applicable: the neutral's withstand is on record": inventory("open", transformer=T1 | {"neutral_bil": 95}),
    },
)
