"""Mats at which a ground fault gives more touch voltage than a person bears."""

from groundcheck.audit import Rule

GRID = {"substation": "ELM", "ground_grid": "M1", "surface_resistivity": 2500.0, "fault_duration": 0.5}
# IEEE Std 80-2013, Annex B.1 (recalled; handbook section 12): GPR 5304 V, E_m 1002 V; for 50 kg, C_s = 0.74 and 0.5 s
# (1000 + 1.5 x 0.74 x 2500) x 0.116/sqrt(0.5) = 619 V, which it exceeds.
DUTY = {"substation": "ELM", "ground_grid": "M1", "gpr_v": 5304.0, "mesh_v": 1002.0,
        "touch_50_v": 619.0, "fault_duration_s": 0.5, "footing_ohm_m": 1850.0, "within_limits": True}  # fmt: skip
MESH, RISE, BORNE = {"mesh_v": None}, {"gpr_v": None}, {"touch_50_v": None}


def inventory(*changes, grid=None, **fields):
    """A mat and its voltages."""
    duty = DUTY
    for change in changes:
        duty = duty | change
    return {"ground_grid": [GRID | (grid or {})], "ground_grid_duty": [duty | fields]}


RULE = Rule(
    title="Touch voltage at the mat exceeds what a person bears",
    severity="high",
    why="Whoever touches grounded steel while standing on the surface in a ground fault carries a current that can "
    "stop the heart.",
    basis="IEEE Std 80, 8.4 and 16.5 (clauses recalled)",
    asks="ground_grid",
    inputs=(
        "ground_grid.surface_resistivity",
        "ground_grid.surface_depth",
        "ground_grid.fault_duration",
        "ground_grid_duty.gpr_v",
        "ground_grid_duty.mesh_v",
        "ground_grid_duty.touch_50_v",
    ),
    policy={"lasting": "ground_grid.lasting_voltage"},
    formula="GPR <= E_touch50 or E_m <= E_touch50; E_m = rho I_G K_m K_i/L_M; "
    "E_touch50 = (1000 + 1.5 C_s rho_s) 0.116/sqrt(t)",
    query="""
        SELECT g.substation, 'ground_grid' AS asset_kind, g.ground_grid AS asset,
               coalesce(u.mesh_v, u.mesh_v_low)          AS least_v,
               coalesce(u.mesh_v, u.mesh_v_high)         AS most_v,
               greatest(coalesce(u.touch_50_v, u.touch_50_v_low), $lasting)  AS least_borne_v,
               coalesce(u.touch_50_v, u.touch_50_v_high) AS most_borne_v,
               coalesce(u.gpr_v, u.gpr_v_low)            AS least_rise_v,
               coalesce(u.gpr_v, u.gpr_v_high)           AS most_rise_v,
               CASE WHEN most_rise_v <= least_borne_v OR most_v <= least_borne_v THEN TRUE
                    WHEN least_rise_v > most_borne_v AND least_v > most_borne_v THEN FALSE END AS ok,
               if(ok IS FALSE, least_v, least(most_rise_v, most_v))    AS actual,
               if(ok IS FALSE, most_borne_v, least_borne_v)            AS required,
               'V'                                       AS unit,
               u.mesh_v_low AS actual_low, u.mesh_v_high AS actual_high,
               u.touch_50_v_low AS required_low, u.touch_50_v_high AS required_high,
               u.footing_ohm_m, coalesce(u.fault_duration_s, u.fault_duration_s_low) AS seconds,
               u.touch_70_v, seconds * (required / actual) ** (1 + 1)  AS wanted_s,
               ['ground_grid_duty.gpr_v', 'ground_grid_duty.mesh_v', 'ground_grid_duty.touch_50_v']
               || if(u.touch_50_v IS NULL, ['ground_grid.fault_duration'], []) AS needs
        FROM inventory.ground_grid g
        LEFT JOIN study.ground_grid_duty u USING (substation, ground_grid)
        -- Where the equations do not hold for the mat, only its rise can settle the question.
        WHERE u.within_limits IS NOT FALSE OR most_rise_v <= least_borne_v
    """,
    message="a ground fault gives {actual} V from hand to feet in the worst mesh of mat {asset}; a person bears "
    "{required} V",
    working="rise of the mat GPR = {least_rise_v} V > {required} V: not settled by the rise alone\n"
    "E_touch50 = (1000 + 1.5 x {footing_ohm_m} ohm m) x 0.116/sqrt({seconds:g} s) = {required} V\n"
    "E_m = {actual} V > {required} V",
    remedy="closer mesh conductors, above all at the corners, or surfacing of higher resistivity where people stand; "
    "or clear ground faults within {wanted_s:.2g} s",
    caution="Until it is mended, keep people off while faults are likely (switching, thunderstorms), and on insulating "
    "mats where they must touch steel.",
    cannot_see="Judges by a person of 50 kg; by one of 70 kg, who bears about a third more, only where nobody else may "
    "enter. Voltages at fences, at pipes that leave the mat, and in soil of several layers ask for a study. "
    "A mat for which the equations do not hold is judged by its rise alone.",
    examples={
        "exception: Annex B.1 of the standard": inventory(),
        "satisfied: exactly what a person bears": inventory(mesh_v=619.0),
        "exception: a volt more": inventory(mesh_v=620.0),
        "satisfied: Annex B.1 with half the mesh voltage": inventory(mesh_v=501.0),
        "satisfied: the rise itself is borne, whatever the mesh": inventory(MESH, gpr_v=619.0),
        "not assessable: the rise is a volt more": inventory(
            MESH, {"mesh_v_low": 0.0, "mesh_v_high": 700.0}, gpr_v=620.0
        ),
        "exception: all that the mesh voltage may be": inventory(MESH, mesh_v_low=620.0, mesh_v_high=1500.0),
        "not assessable: the least that the mesh voltage may be is borne": inventory(
            MESH, mesh_v_low=619.0, mesh_v_high=1500.0
        ),
        "satisfied: the most that the mesh voltage may be is borne": inventory(MESH, mesh_v_low=1.0, mesh_v_high=619.0),
        "not assessable: the rise may be small": inventory(RISE, gpr_v_low=100.0, gpr_v_high=6000.0),
        "not assessable: the least rise is exactly borne": inventory(RISE, gpr_v_low=619.0, gpr_v_high=6000.0),
        "exception: all that a person may bear is exceeded": inventory(
            BORNE, touch_50_v_low=400.0, touch_50_v_high=900.0
        ),
        "not assessable: a person may bear it": inventory(
            BORNE, grid={"fault_duration": None}, touch_50_v_low=400.0, touch_50_v_high=1100.0
        ),
        "satisfied: exactly what is borne without limit of time": inventory(BORNE, gpr_v=50.0),
        "not assessable: a volt more, for a time that is not known": inventory(
            BORNE, gpr_v=51.0, mesh_v=51.0, touch_50_v_low=0.0, touch_50_v_high=900.0
        ),
        "not assessable: not computed": {"ground_grid": [GRID]},
        "not applicable: the equations do not hold for the mat": inventory(MESH, within_limits=False),
        "satisfied: they do not hold, but the rise is borne": inventory(MESH, within_limits=False, gpr_v=500.0),
    },
)
