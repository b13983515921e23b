"""Zones that run on through a ground fault for longer than something in them bears."""

from groundcheck.audit import Rule

ZONE = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1", "nominal_kv": 20.0, "grounding_class": "resonant",
        "continuity_required": True}  # fmt: skip
FAULT = {"zone": "ELM:B1", "may_run_s": 28800.0, "limit_substation": "ELM", "limit_kind": "insulation",
         "limit_asset": "C1", "limit_field": "cable_insulation_level"}  # fmt: skip

LIMIT = {"substation": "ELM", "asset_kind": "insulation", "asset": "C1", "zone": "ELM:B1"}


def inventory(may_run_s=28800.0, low=None, high=None, search=28800.0, **zone):
    """A zone, and how long its assets bear a standing ground fault, or its bounds."""
    fault = FAULT | {"may_run_s": may_run_s, "may_run_s_low": low, "may_run_s_high": high}
    return {
        "zone": [ZONE | zone],
        "standing_fault": [fault],
        "run_on_limit": [LIMIT],
        "policy": {"search": search},
    }


RULE = Rule(
    title="A zone runs on through a ground fault for longer than something in it bears",
    severity="medium",
    why="While the fault is looked for, healthy phases stand at line-to-line voltage and neutral devices carry "
    "current. What does not bear that fails, and its failure is the second ground fault: a short circuit.",
    basis="IEC 61869-3, 8 h with a standing ground fault (recalled); cables, 1 min, 1 h, without limit: ICEA practice",
    asks="zone",
    inputs=("bus.continuity_required", "standing_fault.may_run_s"),
    policy={"search": "ground_detector.search_time"},
    query="""
        SELECT z.substation, 'bus' AS asset_kind, z.bus AS asset, z.zone, z.bus, z.nominal_kv,
               coalesce(f.may_run_s, f.may_run_s_low)   AS least_s,
               coalesce(f.may_run_s, f.may_run_s_high)  AS most_s,
               $search                                  AS required,
               's'                                      AS unit,
               CASE WHEN least_s >= required THEN TRUE
                    WHEN most_s < required AND z.continuity_required THEN FALSE END AS ok,
               if(ok IS FALSE, most_s, least_s)         AS actual,
               f.may_run_s_low AS actual_low, f.may_run_s_high AS actual_high,
               replace(z.grounding_class, '_', ' ')     AS grounding_class,
               replace(f.limit_kind, '_', ' ') || ' ' || if(f.limit_substation <> z.substation,
                   f.limit_substation || ':', '') || f.limit_asset AS limit_asset,
               replace(f.limit_field, '_', ' ')         AS limit_field,
               [if(z.continuity_required IS NULL, 'bus.continuity_required', NULL), 'standing_fault.may_run_s'] AS needs
        FROM study.zone z
        JOIN study.standing_fault f USING (zone)
        -- Where that is not on record, its grounding must let it run on, and no clearing time say that it does not.
        -- A zone without anything whose time is or could be limited is not asked.
        WHERE (z.continuity_required OR (z.continuity_required IS NULL AND NOT isfinite(z.clearing_time_s_high)
                                         AND z.grounding_class IN ('ungrounded', 'resonant', 'high_resistance')))
          AND EXISTS (FROM study.run_on_limit l WHERE l.zone = z.zone)
    """,
    message="zone {zone} ({nominal_kv:g} kV, {grounding_class}) is meant to run on through a ground fault; "
    "{limit_asset} ({limit_field}) bears that for {actual:g} s, and the search may take {required:g} s",
    formula="t_bears >= t_search, for every asset of the zone",
    working="shortest: {limit_asset}, {limit_field}: t_bears = {actual:g} s\nt_search = {required:g} s",
    remedy="{limit_asset} replaced by one rated for a standing ground fault, or the fault switched off within "
    "{actual:g} s",
    caution="While a ground fault stands, keep away from its surroundings: it may flash over or be stepped on.",
    cannot_see="Knows the times of neutral devices, grounding transformers, voltage transformers and cables; what they "
    "have borne before is not in the record.",
    examples={
        "satisfied: exactly as long as the search": inventory(),
        "satisfied: without limit": inventory(float("inf")),
        "exception: 1 h": inventory(3600.0),
        "exception: 8 h met, 12 h asked": inventory(search=43200.0),
        "satisfied: exactly that at the least that the record allows": inventory(None, 28800.0, float("inf")),
        "exception: less at the most that the record allows": inventory(None, 0.0, 28799.0),
        "not assessable: exactly that at the most that the record allows": inventory(None, 0.0, 28800.0),
        "not assessable: whether it runs on not on record": inventory(
            60.0, continuity_required=None, clearing_time_s_high=float("inf")
        ),
        "satisfied: whether it runs on not on record, without limit": inventory(
            float("inf"), continuity_required=None, clearing_time_s_high=float("inf")
        ),
        "not applicable: whether it runs on not on record, its clearing time is": inventory(
            60.0, continuity_required=None, clearing_time_s_high=1.0
        ),
        "not applicable: neither that nor how it is grounded on record": inventory(
            60.0, continuity_required=None, grounding_class=None, clearing_time_s_high=float("inf")
        ),
        "not applicable: nothing in it has a time": inventory() | {"run_on_limit": []},
        "not applicable: it trips": inventory(60.0, continuity_required=False, clearing_time_s_high=1.0),
        "not applicable: a zone that passes a large current": {"zone": [ZONE | {"grounding_class": "effective"}]},
    },
)
