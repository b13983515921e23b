"""Mats whose measured resistance is far from the computed one."""

from groundcheck.audit import Rule

GRID = {"substation": "ELM", "ground_grid": "M1", "measured_resistance": 2.0, "soil_resistivity": 400.0}
# IEEE Std 80-2013, Annex B.1: 2.78 ohm computed for 70 m x 70 m in 400 ohm m (recalled; handbook section 12); with 2.0
# ohm measured the ratio is 0.72.
DUTY = {"substation": "ELM", "ground_grid": "M1", "sverak_ohm": 2.78, "measured_over_computed": 0.72}
BOUNDS = DUTY | {"sverak_ohm": None, "measured_over_computed": None}


def known(ratio):
    """A mat of which the ratio is known."""
    return {"ground_grid": [GRID], "ground_grid_duty": [DUTY | {"measured_over_computed": ratio}]}


def between(low, high):
    """A mat of which the ratio is known within bounds."""
    ends = {"measured_over_computed_low": low, "measured_over_computed_high": high}
    return {"ground_grid": [GRID | {"soil_resistivity": None}], "ground_grid_duty": [BOUNDS | ends]}


RULE = Rule(
    title="Measured and computed resistance of the mat disagree",
    severity="medium",
    why="Either the measurement, the soil resistivity or the drawing of the mat is wrong, or the mat is broken. Rise, "
    "touch and step voltages are judged by them.",
    basis="common practice, no source; resistance by IEEE Std 80, 14.2 (clause recalled)",
    asks="ground_grid",
    inputs=(
        "ground_grid.measured_resistance",
        "ground_grid.soil_resistivity",
        "ground_grid_duty.measured_over_computed",
    ),
    policy={"least": "ground_grid.agreement_least", "most": "ground_grid.agreement_most"},
    formula="r_least <= R_measured/R_computed <= r_most; "
    "R_computed = rho [1/L_T + 1/sqrt(20 A) (1 + 1/(1 + h sqrt(20/A)))]",
    query="""
        SELECT g.substation, 'ground_grid' AS asset_kind, g.ground_grid AS asset,
               coalesce(u.measured_over_computed, u.measured_over_computed_low)   AS low,
               coalesce(u.measured_over_computed, u.measured_over_computed_high)  AS high,
               CASE WHEN low >= $least AND high <= $most THEN TRUE
                    WHEN high < $least OR low > $most THEN FALSE END AS ok,
               if(high < $least, high, low)              AS actual,
               if(high < $least, $least, $most)          AS required,
               if(high < $least, 'below', 'above')       AS side,
               'measured/computed'                       AS unit,
               u.measured_over_computed_low AS actual_low, u.measured_over_computed_high AS actual_high,
               g.measured_resistance, g.measured_resistance / actual AS computed_ohm, g.soil_resistivity,
               ['ground_grid.soil_resistivity', 'ground_grid_duty.measured_over_computed'] AS needs
        FROM inventory.ground_grid g
        LEFT JOIN study.ground_grid_duty u USING (substation, ground_grid)
        WHERE g.measured_resistance IS NOT NULL
    """,
    message="mat {asset} measures {measured_resistance:g} ohm and computes to {computed_ohm} ohm: the ratio of "
    "{actual:.2f} is {side} {required:g}",
    working="rho = {soil_resistivity:g} ohm m: R_computed = {computed_ohm} ohm\n"
    "{measured_resistance:g} ohm / {computed_ohm} ohm = {actual:.2f}, {side} {required:g}",
    remedy="measure soil and mat again with shield wires and cable sheaths accounted for, and check the dimensions on "
    "record against the drawing",
    caution="Until it is settled, judge rise and touch voltages by the greater resistance of the two.",
    cannot_see="What was connected to the mat when it was measured, and soil in layers.",
    examples={
        "satisfied: Annex B.1 of the standard": known(0.72),
        "satisfied: exactly the least": known(0.3),
        "exception: less": known(0.29),
        "satisfied: exactly the most": known(2.0),
        "exception: more": known(2.1),
        "satisfied: exactly both ends of what is known": between(0.3, 2.0),
        "exception: all that it may be is below": between(0.1, 0.29),
        "exception: all that it may be is above": between(2.1, 4.0),
        "not assessable: it may be above": between(1.0, 2.1),
        "not assessable: it may be below": between(0.2, 1.0),
        "not assessable: exactly the least at its highest": between(0.1, 0.3),
        "not assessable: exactly the most at its lowest": between(2.0, 3.0),
        "exception: far more than the most": known(2.9),
        "satisfied: little more than the least": known(0.4),
        "not assessable: not computed": {"ground_grid": [GRID | {"soil_resistivity": None}]},
        "not applicable: not measured": {"ground_grid": [GRID | {"measured_resistance": None}]},
    },
)
