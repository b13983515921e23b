"""Mats at which a ground fault gives more step voltage than a person bears."""

from groundcheck.audit import Rule

GRID = {"substation": "ELM", "ground_grid": "M1", "surface_resistivity": 2500.0, "fault_duration": 0.5}
# IEEE Std 80-2013, Annex B.2 (recalled; handbook section 12): GPR 5247 V, E_s 549 V; for 50 kg, C_s = 0.74 and 0.5 s
# (1000 + 6 x 0.74 x 2500) x 0.116/sqrt(0.5) = 1985 V, which it keeps.
DUTY = {"substation": "ELM", "ground_grid": "M1", "gpr_v": 5247.0, "step_v": 549.0,
        "step_50_v": 1985.0, "fault_duration_s": 0.5, "footing_ohm_m": 1850.0, "within_limits": True}  # fmt: skip
STEP, RISE, BORNE = {"step_v": None}, {"gpr_v": None}, {"step_50_v": None}


def inventory(*changes, grid=None, **fields):
    """A mat and its voltages."""
    duty = DUTY
    for change in changes:
        duty = duty | change
    return {"ground_grid": [GRID | (grid or {})], "ground_grid_duty": [duty | fields]}


RULE = Rule(
    title="Step voltage at the mat exceeds what a person bears",
    severity="high",
    why="Whoever walks across the edge of the mat in a ground fault carries a current from foot to foot. It throws "
    "people down, and a person who has fallen bears far less.",
    basis="IEEE Std 80, 8.3 and 16.5.2 (clauses recalled)",
    asks="ground_grid",
    inputs=(
        "ground_grid.surface_resistivity",
        "ground_grid.surface_depth",
        "ground_grid.fault_duration",
        "ground_grid_duty.gpr_v",
        "ground_grid_duty.step_v",
        "ground_grid_duty.step_50_v",
    ),
    policy={"lasting": "ground_grid.lasting_voltage"},
    formula="GPR <= E_step50 or E_s <= E_step50; E_s = rho I_G K_s K_i/L_S; "
    "E_step50 = (1000 + 6 C_s rho_s) 0.116/sqrt(t)",
    query="""
        SELECT g.substation, 'ground_grid' AS asset_kind, g.ground_grid AS asset,
               coalesce(u.step_v, u.step_v_low)          AS least_v,
               coalesce(u.step_v, u.step_v_high)         AS most_v,
               greatest(coalesce(u.step_50_v, u.step_50_v_low), $lasting)    AS least_borne_v,
               coalesce(u.step_50_v, u.step_50_v_high)   AS most_borne_v,
               coalesce(u.gpr_v, u.gpr_v_low)            AS least_rise_v,
               coalesce(u.gpr_v, u.gpr_v_high)           AS most_rise_v,
               CASE WHEN most_rise_v <= least_borne_v OR most_v <= least_borne_v THEN TRUE
                    WHEN least_rise_v > most_borne_v AND least_v > most_borne_v THEN FALSE END AS ok,
               if(ok IS FALSE, least_v, least(most_rise_v, most_v))    AS actual,
               if(ok IS FALSE, most_borne_v, least_borne_v)            AS required,
               'V'                                       AS unit,
               u.step_v_low AS actual_low, u.step_v_high AS actual_high,
               u.step_50_v_low AS required_low, u.step_50_v_high AS required_high,
               u.footing_ohm_m, coalesce(u.fault_duration_s, u.fault_duration_s_low) AS seconds,
               u.step_70_v, seconds * (required / actual) ** (1 + 1)  AS wanted_s,
               ['ground_grid_duty.gpr_v', 'ground_grid_duty.step_v', 'ground_grid_duty.step_50_v']
               || if(u.step_50_v IS NULL, ['ground_grid.fault_duration'], []) AS needs
        FROM inventory.ground_grid g
        LEFT JOIN study.ground_grid_duty u USING (substation, ground_grid)
        -- Where the equations do not hold for the mat, only its rise can settle the question.
        WHERE u.within_limits IS NOT FALSE OR most_rise_v <= least_borne_v
    """,
    message="a ground fault gives {actual} V from foot to foot at the edge of mat {asset}; a person bears {required} V",
    working="rise of the mat GPR = {least_rise_v} V > {required} V: not settled by the rise alone\n"
    "E_step50 = (1000 + 6 x {footing_ohm_m} ohm m) x 0.116/sqrt({seconds:g} s) = {required} V\n"
    "E_s = {actual} V > {required} V",
    remedy="conductors that lead deeper outwards from the edge, or surfacing of higher resistivity around it; or "
    "clear ground faults within {wanted_s:.2g} s",
    caution="Until it is mended, keep people off the edge of the mat while faults are likely (switching, "
    "thunderstorms).",
    cannot_see="Judges by a person of 50 kg; by one of 70 kg, who bears about a third more, only where nobody else may "
    "enter. Voltages at fences, at pipes that leave the mat, and in soil of several layers ask for a study. "
    "A mat for which the equations do not hold is judged by its rise alone.",
    examples={
        "satisfied: Annex B.2 of the standard": inventory(),
        "satisfied: exactly what a person bears": inventory(step_v=1985.0),
        "exception: a volt more": inventory(step_v=1986.0),
        "exception: 4000 V": inventory(step_v=4000.0),
        "satisfied: the rise itself is borne, whatever the step": inventory(STEP, gpr_v=1985.0),
        "not assessable: the rise is a volt more": inventory(STEP, gpr_v=1986.0, step_v_low=0.0, step_v_high=2500.0),
        "exception: all that the step voltage may be": inventory(STEP, step_v_low=1986.0, step_v_high=4000.0),
        "not assessable: the least that the step voltage may be is borne": inventory(
            STEP, step_v_low=1985.0, step_v_high=4000.0
        ),
        "satisfied: the most that the step voltage may be is borne": inventory(
            STEP, step_v_low=1.0, step_v_high=1985.0
        ),
        "not assessable: the rise may be small": inventory(RISE, step_v=3000.0, gpr_v_low=9.0, gpr_v_high=9000.0),
        "not assessable: the least rise is exactly borne": inventory(
            RISE, step_v=3000.0, gpr_v_low=1985.0, gpr_v_high=9000.0
        ),
        "exception: all that a person may bear is exceeded": inventory(
            BORNE, step_v=3000.0, step_50_v_low=1000.0, step_50_v_high=2900.0
        ),
        "not assessable: a person may bear it": inventory(
            BORNE, step_v=3000.0, step_50_v_low=1000.0, step_50_v_high=3100.0, grid={"fault_duration": None}
        ),
        "satisfied: exactly what is borne without limit of time": inventory(BORNE, gpr_v=50.0),
        "not assessable: a volt more, for a time that is not known": inventory(
            BORNE, gpr_v=51.0, step_v=51.0, step_50_v_low=0.0, step_50_v_high=900.0
        ),
        "not assessable: not computed": {"ground_grid": [GRID]},
        "not applicable: the equations do not hold for the mat": inventory(STEP, within_limits=False),
        "satisfied: they do not hold, but the rise is borne": inventory(STEP, within_limits=False, gpr_v=500.0),
    },
)
