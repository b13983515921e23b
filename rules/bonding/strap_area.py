"""Bonds that a ground fault at their equipment would overheat."""

from groundcheck.audit import Rule

BOND = {"substation": "ELM", "bond": "B1", "equipment": "T1", "equipment_kind": "transformer", "conductor_size": 50.0,
        "conductor_material": "copper_annealed", "parallel": 1, "joint": "exothermic"}  # fmt: skip
# IEEE Std 80-2013, annealed copper (recalled; handbook section 11, check 11.3): 20 kA for 0.5 s needs 50.2 mm2.
DUTY = {"substation": "ELM", "bond": "B1", "current_a": 20000.0, "duration_s": 0.5, "decrement": 1.0,
        "fault_bus": "B33", "limit_c": 1083.0, "stands_at": "bus", "strap_share": 1.0, "needed_mm2": 50.2,
        "needed_mm2_low": 45.0, "needed_mm2_high": 55.0, "installed_mm2": 50.2}  # fmt: skip
BOUNDS = DUTY | {"needed_mm2": None}
AREA = DUTY | {"installed_mm2": None, "installed_mm2_low": 50.2, "installed_mm2_high": 60.0}
ANYWHERE = DUTY | {"stands_at": "station", "installed_mm2": 50.0}


def inventory(duty=DUTY, bond=BOND, margin=1.0):
    """A bond and its duty."""
    return {"bond": [bond], "bond_duty": [duty], "policy": {"margin": margin}}


RULE = Rule(
    title="Straps are too thin for the ground fault at their equipment",
    severity="high",
    why="The strap or its joint melts before the fault is cleared. The frame then rises to the system's voltage to "
    "ground with the fault still on it, and the arc at the break can burn whoever stands near.",
    basis="IEEE Std 80, 11.3.1 and 11.3.3 (clauses recalled)",
    asks="bond",
    inputs=(
        "bond.conductor_size",
        "bond.parallel",
        "bond.conductor_material",
        "bond.joint",
        "bond.equipment_kind",
        "bond_duty.needed_mm2",
        "bond_duty.installed_mm2",
    ),
    policy={"margin": "bonding.area_margin", "light": "bonding.light_kinds"},
    formula="A/s >= k A_needed; A_needed = I D_f sqrt(t) / sqrt(TCAP 1e-4/(alpha_r rho_r) ln((K0 + T_m)/(K0 + T_a)))",
    query="""
        WITH strap AS (
            SELECT b.*, u.* EXCLUDE (substation, bond),
                   coalesce(u.needed_mm2, u.needed_mm2_low) * $margin    AS least_mm2,
                   coalesce(u.needed_mm2, u.needed_mm2_high) * $margin   AS most_mm2,
                   coalesce(u.installed_mm2, u.installed_mm2_low)        AS fewest_mm2,
                   coalesce(u.installed_mm2, u.installed_mm2_high)       AS widest_mm2,
                   CASE WHEN u.stands_at = 'bus' THEN TRUE
                        ELSE NOT list_contains($light, b.equipment_kind) END AS heavy
            FROM inventory.bond b
            LEFT JOIN study.bond_duty u ON u.substation = b.substation AND u.bond = b.bond
        )
        SELECT substation, 'bond' AS asset_kind, bond AS asset, equipment,
               CASE WHEN fewest_mm2 >= most_mm2 THEN TRUE
                    WHEN widest_mm2 < least_mm2 AND heavy THEN FALSE END AS ok,
               if(ok IS FALSE, widest_mm2, fewest_mm2)  AS actual,
               if(ok IS FALSE, least_mm2, most_mm2)     AS required,
               'mm2'                                    AS unit,
               installed_mm2_low AS actual_low, installed_mm2_high AS actual_high,
               needed_mm2_low * $margin AS required_low, needed_mm2_high * $margin AS required_high,
               required / $margin              AS area_mm2,
               coalesce(current_a, current_a_low) AS amperes,
               coalesce(duration_s, duration_s_low) AS seconds,
               decrement, fault_bus, strap_share, conductor_size, parallel,
               coalesce(replace(joint, '_', ' '), 'unknown')   AS joint_words,
               coalesce(replace(conductor_material, '_', ' '), 'material not on record')  AS material,
               coalesce(format('{:.0f} degC', limit_c), 'the highest that the record admits') AS limit_words,
               if(needed_mm2 IS NULL, '; first put on record what the area hangs on, material and joint', '') AS first,
               required * strap_share          AS each_mm2,
               ['bond.conductor_size', 'bond.conductor_material', 'bond.joint', 'bond_duty.needed_mm2',
                'bond_duty.installed_mm2']
               || if(installed_mm2 IS NULL, ['bond.parallel'], [])
               || if(heavy IS NULL, ['bond.equipment_kind'], []) AS needs
        FROM strap
        WHERE heavy IS NOT FALSE
    """,
    message="bond {asset} of {equipment} counts for {actual} mm2; a ground fault at bus {fault_bus} needs "
    "{required} mm2 with {joint_words} joints",
    working="{amperes} A for {seconds:g} s at bus {fault_bus}, D_f = {decrement:.3f}\n"
    "{material}, T_m = {limit_words}: A_needed = {area_mm2} mm2\n"
    "{area_mm2} mm2 x {margin:g} margin = {required} mm2\n"
    "{conductor_size} mm2 a strap / {strap_share:.2f} share in the most loaded of {parallel} = {actual} mm2\n"
    "{actual} mm2 < {required} mm2",
    remedy="{parallel} straps of {each_mm2} mm2 or more, or a greater number, each to its own point of the mat and "
    "sized for the share of the most loaded; or clear the fault sooner{first}",
    caution="A frame is live while its strap is off in a fault: connect the new strap before taking off the old one.",
    cannot_see="Corrosion, and whether straps end at different points of the mat. Where the equipment names no bus, "
    "the worst bus of the station counts.",
    examples={
        "exception: 50 mm2 where 50.2 mm2 are needed": inventory(DUTY | {"installed_mm2": 50.0}),
        "exception: area met, margin not": inventory(margin=1.1),
        "satisfied: exactly the area needed": inventory(),
        "satisfied: more": inventory(DUTY | {"installed_mm2": 70.0}),
        "satisfied: exactly the most that may be needed": inventory(BOUNDS | {"installed_mm2": 55.0}),
        "exception: below the least that may be needed": inventory(BOUNDS | {"installed_mm2": 44.0}),
        "not assessable: exactly the least that may be needed": inventory(
            BOUNDS | {"installed_mm2": 45.0}, BOND | {"joint": None}
        ),
        "satisfied: enough with one strap, whatever their number": inventory(AREA, BOND | {"parallel": None}),
        "exception: too little with whatever number": inventory(
            AREA | {"installed_mm2_low": 40.0, "installed_mm2_high": 50.1}, BOND | {"parallel": None}
        ),
        "not assessable: enough with several straps only": inventory(
            AREA | {"installed_mm2_low": 40.0}, BOND | {"parallel": None}
        ),
        "exception: a transformer of which the kind is blank": inventory(
            DUTY | {"installed_mm2": 50.0}, BOND | {"equipment_kind": None}
        ),
        "exception: a gantry, for the station's worst fault": inventory(
            ANYWHERE, BOND | {"equipment_kind": "structure"}
        ),
        "not assessable: equipment that is not on record and of no kind": inventory(
            ANYWHERE, BOND | {"equipment_kind": None}
        ),
        "not assessable: size not on record": inventory(
            DUTY | {"installed_mm2": None}, BOND | {"conductor_size": None}
        ),
        "not assessable: fault not computed": {"bond": [BOND]},
        "not applicable: a fence": inventory(ANYWHERE, BOND | {"equipment_kind": "fence"}),
    },
)
