"""Bonds whose measured resistance is high."""

from groundcheck.audit import Rule

BOND = {"substation": "ELM", "bond": "B1", "equipment": "T1", "measured_resistance": 20.0}
DUTY = {"substation": "ELM", "bond": "B1", "current_a": 5000.0}


def inventory(measured, **tables):
    """A bond with a measured resistance, of which 20 mohm are the limit."""
    return {"bond": [BOND | {"measured_resistance": measured}], "bond_duty": [DUTY]} | tables


RULE = Rule(
    title="The measured resistance of a bond is high",
    severity="medium",
    why="A joint is loose or corroded. In a ground fault it heats and may open, and until then its voltage drop stands "
    "between the frame and the mat on which people stand.",
    basis="common practice, no source",
    asks="bond",
    inputs=("bond.measured_resistance", "bond_duty.current_a"),
    policy={"limit": "bonding.continuity_limit"},
    formula="R_bond <= R_limit",
    query="""
        WITH station AS (
            SELECT b.*, coalesce(s.district, '') AS district
            FROM inventory.bond b LEFT JOIN inventory.substation s USING (substation)
        ),
        measured AS (
            SELECT district FROM station WHERE measured_resistance IS NOT NULL
            UNION SELECT coalesce(s.district, '')
                  FROM inventory.inspection i LEFT JOIN inventory.substation s USING (substation)
                  WHERE i.kind = 'continuity'
        )
        SELECT b.substation, 'bond' AS asset_kind, b.bond AS asset, b.equipment,
               b.measured_resistance          AS actual,
               $limit                         AS required,
               'mohm'                         AS unit,
               actual <= required             AS ok,
               coalesce(u.current_a, u.current_a_low)  AS amperes,
               amperes * actual / 1000        AS drop_v,
               ['bond.measured_resistance']   AS needs
        FROM station b
        JOIN measured m USING (district)
        LEFT JOIN study.bond_duty u ON u.substation = b.substation AND u.bond = b.bond
    """,
    message="bond {asset} of {equipment} measures {actual:g} mohm; {required:g} mohm is the limit",
    working="R_bond = {actual:g} mohm > {required:g} mohm\n"
    "{amperes} A of ground fault x {actual:g} mohm / 1000 = {drop_v} V along the bond",
    remedy="clean and remake the joints of the bond until it measures less than {required:g} mohm, or replace it",
    caution="A frame is live while its strap is off in a fault: fit a temporary bond before opening a joint.",
    cannot_see="Readings through other paths to the mat, which hide a broken bond; results kept as inspections only.",
    examples={
        "exception: a little above the limit": inventory(20.1),
        "satisfied: exactly the limit": inventory(20.0),
        "satisfied: 0.8 mohm": inventory(0.8),
        "exception: fault not computed": inventory(45.0, bond_duty=[]),
        "not assessable: not measured, but others of the district are": {
            "bond": [BOND | {"measured_resistance": None}],
            "inspection": [{"substation": "ASH", "inspection": "I1", "asset": "B7", "kind": "continuity"}],
            "substation": [{"substation": "ELM", "district": "N"}, {"substation": "ASH", "district": "N"}],
        },
        "not applicable: the district measures no bonds": inventory(None),
    },
)
