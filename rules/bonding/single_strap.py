"""Equipment with heavy ground faults that a single strap connects to the mat."""

from groundcheck.audit import Rule

BOND = {"substation": "ELM", "bond": "B1", "equipment": "T1", "equipment_kind": "transformer", "parallel": 1}
DUTY = {"substation": "ELM", "bond": "B1", "current_a": 5000.0}
BOUNDS = DUTY | {"current_a": None, "current_a_low": 5000.0, "current_a_high": 9000.0}
NAMES = {"substation": "ELM", "asset_kind": "bond", "asset": "B1", "field": "equipment", "position": 1,
         "written": "T1", "target_kind": "transformer", "target_substation": "ELM", "target": "T1"}  # fmt: skip


def inventory(bond=BOND, duty=DUTY, others=(), references=()):
    """A bond, its duty, and other bonds of the station."""
    return {"bond": [bond, *others], "bond_duty": [duty], "reference": list(references)}


SECOND = BOND | {"bond": "B2", "parallel": None}

RULE = Rule(
    title="A single strap connects equipment with heavy ground faults to the mat",
    severity="low",
    why="One strap that is cut, corroded or taken off leaves the frame or the neutral without a path to the mat, and "
    "nothing shows it until the next fault.",
    basis="common practice, no source",
    asks="bond",
    inputs=("bond.parallel", "bond.equipment_kind", "bond_duty.current_a"),
    policy={"from": "bonding.two_straps_from", "kinds": "bonding.two_strap_kinds"},
    formula="n >= 2 where I_LG >= I_two",
    query="""
        WITH place AS (
            SELECT b.substation, b.bond, b.equipment, coalesce(r.target_kind, b.equipment_kind) AS kind,
                   sum(coalesce(b.parallel, 1)) OVER same      AS straps,
                   count(*) OVER same = count(b.parallel) OVER same AS counted
            FROM inventory.bond b
            LEFT JOIN inventory.reference r ON r.asset_kind = 'bond' AND r.field = 'equipment'
                                           AND r.substation = b.substation AND r.asset = b.bond
            WINDOW same AS (PARTITION BY b.substation, coalesce(r.target_kind, ''),
                                         coalesce(r.target_substation || ':' || r.target, b.equipment))
        )
        SELECT p.substation, 'bond' AS asset_kind, p.bond AS asset, p.equipment,
               coalesce(u.current_a, u.current_a_low)   AS least_a,
               coalesce(u.current_a, u.current_a_high)  AS most_a,
               CASE WHEN p.straps > 1 OR most_a < $from THEN TRUE
                    WHEN p.counted AND least_a >= $from AND p.kind IS NOT NULL THEN FALSE END AS ok,
               p.straps::DOUBLE  AS actual,
               1.0 + 1           AS required,
               'straps'          AS unit,
               replace(coalesce(p.kind, 'equipment'), '_', ' ') AS kind_words,
               if(p.counted, [], ['bond.parallel']) || if(p.kind IS NULL, ['bond.equipment_kind'], [])
               || if(u.current_a IS NULL, ['bond_duty.current_a'], []) AS needs
        FROM place p
        LEFT JOIN study.bond_duty u ON u.substation = p.substation AND u.bond = p.bond
        WHERE p.kind IS NULL OR list_contains($kinds, p.kind)
    """,
    message="one strap connects {kind_words} {equipment}, with ground faults of {least_a} A, to the mat; two are "
    "customary",
    working="straps on record for {equipment}: n = {actual:.0f}\nI_LG = {least_a} A >= {from} A: two are looked for",
    remedy="a second strap of the same size, from another point of {equipment} to another point of the mat",
    caution="Do not take off the only strap of energized equipment.",
    cannot_see="Straps that are not on record, and whether two straps end at one point.",
    examples={
        "exception: one strap at exactly the current from which two are looked for": inventory(),
        "exception: one strap, more current": inventory(duty=DUTY | {"current_a": 6000.0}),
        "satisfied: one strap, little less current": inventory(duty=DUTY | {"current_a": 4999.0}),
        "satisfied: two in parallel": inventory(BOND | {"parallel": 2}),
        "satisfied: two bonds of one piece of equipment": inventory(
            others=[SECOND | {"parallel": 1}], references=[NAMES, NAMES | {"asset": "B2"}]
        ),
        "satisfied: two bonds of equipment that is not on record": inventory(others=[SECOND]),
        "exception: the least current that the record allows is heavy": inventory(duty=BOUNDS),
        "not assessable: the current may be heavy": inventory(duty=BOUNDS | {"current_a_low": 4000.0}),
        "satisfied: the most that the record allows is not": inventory(
            duty=BOUNDS | {"current_a_low": 100.0, "current_a_high": 4999.0}
        ),
        "not assessable: number not on record": inventory(BOND | {"parallel": None}),
        "not assessable: kind not on record": inventory(BOND | {"equipment_kind": None}),
        "exception: kind known from the equipment": inventory(BOND | {"equipment_kind": None}, references=[NAMES]),
        "not assessable: fault not computed": {"bond": [BOND]},
        "not applicable: a fence": inventory(BOND | {"equipment_kind": "fence"}),
    },
)
