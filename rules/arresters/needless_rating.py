"""Arresters rated for an ungrounded system in one that is effectively grounded."""

from groundcheck.audit import Rule

HERE = {"substation": "ELM", "bus": "B1"}
ZONE = {"zone": "ELM:B1"}
STRESS = HERE | ZONE | {"nominal_kv": 11.0}


def inventory(mcov, grounding_class="effective", ratio=(1.0, 1.0), outage="kept", position="phase", **policy):
    """An arrester at a bus of 11 kV whose highest voltage lies between two ratios to it; an outage in its zone."""
    stress = STRESS | {"ratio_low": ratio[0], "ratio_high": ratio[1], "grounding_class": grounding_class}
    out = {"source_substation": "ELM", "source_kind": "transformer", "source": "T1", "result": outage}
    return {
        "arrester": [HERE | {"arrester": "SA1", "mcov": mcov, "position": position}],
        "bus_stress": [stress, stress | {"substation": "OAK", "nominal_kv": 0.4}],
        "source_outage": [ZONE | out, out | {"zone": "OAK:B9", "result": "ungrounded"}] if outage else [],
        "policy": {"limit": 1.0} | policy,
    }


RULE = Rule(
    title="The arrester is rated for an ungrounded system in an effectively grounded one",
    severity="low",
    why="The protective level of an arrester rises with its continuous operating voltage. One that bears line-to-line "
    "voltage for ever lets surges through to the insulation that an arrester for this system would keep from it.",
    basis="common practice, no source",
    asks="arrester",
    inputs=(
        "arrester.mcov",
        "arrester.position",
        "bus.nominal_voltage",
        "bus.highest_voltage",
        "zone.grounding_class",
        "source_outage.result",
    ),
    policy={"limit": "arrester.needless_rating"},
    formula="MCOV < k U_max where the zone is effectively grounded",
    query="""
        WITH losing AS (
            -- A zone that an outage may leave less firmly grounded has a use for the rating.
            SELECT DISTINCT zone FROM study.source_outage WHERE result NOT IN ('kept', 'dead')
        ),
        seen AS (
            SELECT a.*, s.* EXCLUDE (substation, bus),
                   s.nominal_kv * coalesce(s.ratio, s.ratio_low)   AS least_kv,
                   s.nominal_kv * coalesce(s.ratio, s.ratio_high)  AS most_kv
            FROM inventory.arrester a
            JOIN study.bus_stress s
              ON s.substation || ':' || s.bus = if(contains(a.bus, ':'), a.bus, a.substation || ':' || a.bus)
            LEFT JOIN losing l ON l.zone = s.zone
            WHERE a.position = 'phase' AND l.zone IS NULL
              AND (s.grounding_class = 'effective' OR s.grounding_class IS NULL)
        )
        SELECT substation, 'arrester' AS asset_kind, arrester AS asset, bus, zone,
               CASE WHEN mcov < least_kv * $limit THEN TRUE
                    WHEN grounding_class IS NOT NULL AND mcov >= most_kv * $limit THEN FALSE END AS ok,
               mcov                                            AS actual,
               if(ok IS FALSE, most_kv, least_kv) * $limit     AS required,
               'kV'                                            AS unit,
               least_kv * $limit AS required_low, most_kv * $limit AS required_high,
               if(ok IS FALSE, most_kv, least_kv)              AS line_kv,
               line_kv / sqrt(3)                               AS sound_kv,
               ['arrester.mcov', 'zone.grounding_class', if(least_kv < most_kv, 'bus.highest_voltage', NULL)] AS needs
        FROM seen
    """,
    message="{asset} at bus {bus} has MCOV {actual} kV, which bears line-to-line voltage ({line_kv} kV) "
    "lastingly; the zone is effectively grounded",
    working="highest line-to-line voltage {line_kv} kV x {limit:g} = {required} kV\n"
    "MCOV {actual} kV\n"
    "voltage to ground without a fault: {sound_kv} kV",
    remedy="at the next replacement an arrester with MCOV {sound_kv} kV or more, by the healthy-phase voltage and "
    "the clearing time of ground faults, far below {line_kv} kV; until then the margin of the insulation checked",
    caution="Choose a lower rating only once the grounding of the zone is proved, with each ground source out.",
    cannot_see="A higher rating may be chosen for a system that is ungrounded at times, for resonance or for "
    "pollution; the protective level itself is not on record.",
    examples={
        "exception: exactly line-to-line voltage": inventory(11.0),
        "exception: above it": inventory(12.7),
        "satisfied: below it": inventory(10.9),
        "satisfied: an owner's limit": inventory(11.0, limit=1.1),
        "satisfied: below the highest voltage": inventory(11.9, ratio=(12 / 11, 12 / 11)),
        "exception: highest voltage not on record, above both": inventory(13.2, ratio=(1.0, 1.2)),
        "not assessable: highest voltage not on record and it decides": inventory(11.0, ratio=(1.0, 1.2)),
        "satisfied: highest voltage not on record, below both": inventory(10.9, ratio=(1.0, 1.2)),
        "not assessable: class not known": inventory(11.0, None),
        "satisfied: class not known, below anyway": inventory(10.9, None),
        "not assessable: MCOV not on record": inventory(None),
        "exception: no outage studied": inventory(11.0, outage=None),
        "exception: the zone dies with its source": inventory(11.0, outage="dead"),
        "not applicable: an outage leaves it ungrounded": inventory(11.0, outage="ungrounded"),
        "not applicable: resistance grounded": inventory(11.0, "low_resistance"),
        "not applicable: neutral arrester": inventory(11.0, position="neutral"),
        "not applicable: position not on record": inventory(11.0, position=None),
    },
)
