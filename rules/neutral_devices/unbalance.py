"""Neutral devices that carry more than their continuous rating without any fault."""

from math import inf

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NR1", "kind": "resistor", "rated_current": 400.0}
LOAD = {"substation": "ELM", "neutral_device": "NR1", "zone": "ELM:B1", "charging_a": 60.0, "unbalance_a": 20.0,
        "continuous_a": 20.0, "continuous_a_low": 20.0, "continuous_a_high": 20.0}  # fmt: skip
NO_RATING = {"continuous_a": None, "continuous_a_low": 0.0, "continuous_a_high": 400.0}
BOUNDS = {"unbalance_a": None, "unbalance_a_low": 10.0, "unbalance_a_high": 20.0}


def inventory(margin=1.0, share=0.05, rated=400.0, **load):
    """A resistor, and what it carries without a fault."""
    return {
        "neutral_device": [DEVICE | {"rated_current": rated}],
        "neutral_unbalance": [LOAD | load],
        "policy": {"margin": margin, "share": share},
    }


RULE = Rule(
    title="Without any fault the neutral device carries more than it may lastingly",
    severity="medium",
    why="Lines whose phases have unequal capacitance to ground drive a current through the neutral all the time. Above "
    "the continuous rating it ages the device year in, year out, and it fails when the ground fault comes.",
    basis="IEEE C57.32, continuous current of neutral grounding devices (clause recalled); the current: derived from "
    "Kirchhoff's current law at the neutral",
    asks="neutral_device",
    inputs=(
        "neutral_device.continuous_current",
        "neutral_device.rated_current",
        "neutral_unbalance.continuous_a",
        "neutral_unbalance.unbalance_a",
    ),
    policy={"margin": "neutral_device.current_margin", "share": "neutral_device.continuous_share"},
    query="""
        WITH load AS (
            SELECT d.substation, d.neutral_device, d.kind, d.rated_current,
                   u.* EXCLUDE (substation, neutral_device, kind),
                   coalesce(u.unbalance_a, u.unbalance_a_low)  AS least_a,
                   coalesce(u.unbalance_a, u.unbalance_a_high) AS most_a
            FROM inventory.neutral_device d
            JOIN study.neutral_unbalance u USING (substation, neutral_device)
        )
        SELECT substation, 'neutral_device' AS asset_kind, neutral_device AS asset, zone, 'A' AS unit,
               CASE WHEN coalesce(continuous_a, continuous_a_low) >= most_a * $margin THEN TRUE
                    WHEN coalesce(continuous_a, continuous_a_high) < least_a * $margin THEN FALSE END AS ok,
               coalesce(continuous_a, if(ok IS FALSE, continuous_a_high, continuous_a_low)) AS actual,
               if(ok IS FALSE, least_a, most_a)  AS carries_a,
               carries_a * $margin               AS required,
               unbalance_a_low * $margin         AS required_low,
               unbalance_a_high * $margin        AS required_high,
               replace(kind, '_', ' ') AS kind, charging_a, most_a * $margin AS needed_a,
               [if(continuous_a IS NULL, 'neutral_device.continuous_current', NULL),
                if(unbalance_a IS NULL, 'neutral_unbalance.unbalance_a', NULL)] AS needs
        FROM load
        -- So small a share of the rated current needs no rating on record.
        WHERE continuous_a IS NOT NULL OR coalesce(most_a > $share * rated_current, TRUE)
    """,
    message="{asset} ({kind}) carries {required} A without a fault, margin included; it may carry {actual} A lastingly",
    formula="I_continuous >= k I_u, I_u = u I_C / |1 + Z (d + j) I_C / V_LN|",
    working="I_C = {charging_a} A, charging current of zone {zone}\n"
    "I_u = {carries_a} A through {asset}\n"
    "k I_u = {margin:g} x {carries_a} A = {required} A\n"
    "I_continuous = {actual} A",
    remedy="measure the neutral current; if it is right, a device of {needed_a} A continuous or more, lines "
    "transposed or balanced, or a coil farther from tune",
    caution="Measure with a current transformer that is there or a clamp: never open the neutral connection.",
    cannot_see="The unbalance of the capacitances is on no record and is assumed; a measured neutral current decides. "
    "Harmonics and unequal loads between line and neutral come on top.",
    examples={
        "satisfied: exactly its continuous rating": inventory(),
        "exception: 20.1 A through 20 A": inventory(unbalance_a=20.1),
        "satisfied: 1 A": inventory(unbalance_a=1.0),
        "exception: met, the margin not": inventory(1.1),
        "satisfied: exactly the most that the record allows": inventory(**BOUNDS),
        "not assessable: exactly the least that the record allows": inventory(**BOUNDS | {"continuous_a": 10.0}),
        "exception: beyond the least that the record allows": inventory(**BOUNDS | {"continuous_a": 9.9}),
        "not assessable: 20.1 A of 400 A, no continuous rating": inventory(unbalance_a=20.1, **NO_RATING),
        "not applicable: exactly the share that needs none": inventory(**NO_RATING),
        "not assessable: within a wide share, not within a narrow one": inventory(share=0.01, **NO_RATING),
        "exception: beyond its rated current": inventory(unbalance_a=401.0, **NO_RATING),
        "not assessable: exactly its rated current": inventory(unbalance_a=400.0, **NO_RATING),
        "satisfied: nothing flows": inventory(rated=None, unbalance_a=0.0, **NO_RATING),
        "not assessable: no rating at all": inventory(rated=None, **NO_RATING | {"continuous_a_high": inf}),
        "not assessable: charging current not known": inventory(
            unbalance_a=None, unbalance_a_low=0.0, unbalance_a_high=22.0
        ),
        "not applicable: grounds no zone": {"neutral_device": [DEVICE]},
    },
)
