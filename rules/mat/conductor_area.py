"""Mats whose conductor a ground fault would overheat."""

from groundcheck.audit import Rule

GRID = {"substation": "ELM", "ground_grid": "M1", "conductor_size": 70.0, "conductor_material": "copper_hard_drawn"}
# IEEE Std 80-2013, hard-drawn copper up to 450 degC (recalled; handbook section 11, check 11.2): K_f 9.278 kcmil per
# kA s^0.5, so 0.6 x 20 kA for 1 s needs 9.278 x 12 x 0.5067 = 56.4 mm2.
DUTY = {"substation": "ELM", "ground_grid": "M1", "current_a": 20000.0, "duration_s": 1.0, "decrement": 1.0,
        "fault_bus": "B33", "limit_c": 450.0, "conductor_share": 0.6, "needed_mm2": 56.4, "needed_mm2_low": 50.0,
        "needed_mm2_high": 60.0, "installed_mm2": 70.0}  # fmt: skip
BOUNDS = DUTY | {"needed_mm2": None}


def inventory(size, duty=DUTY, margin=1.0, **fields):
    """A mat of one conductor size and its duty."""
    grid = GRID | {"conductor_size": size} | fields
    return {"ground_grid": [grid], "grid_conductor_duty": [duty], "policy": {"margin": margin}}


RULE = Rule(
    title="The conductor of the mat is too thin for the station's ground fault",
    severity="high",
    why="The conductor or a joint melts where the fault current enters the mat. The mat falls apart during the fault, "
    "and what is connected to the parts rises to different voltages.",
    basis="IEEE Std 80, 11.3.1 and 11.3.3 (clauses recalled)",
    asks="ground_grid",
    inputs=("ground_grid.conductor_size", "ground_grid.conductor_material", "grid_conductor_duty.needed_mm2"),
    policy={"margin": "ground_grid.area_margin"},
    formula="A >= k A_needed; A_needed = s I D_f sqrt(t) / sqrt(TCAP 1e-4/(alpha_r rho_r) ln((K0 + T_m)/(K0 + T_a)))",
    query="""
        SELECT g.substation, 'ground_grid' AS asset_kind, g.ground_grid AS asset,
               coalesce(u.needed_mm2, u.needed_mm2_low) * $margin   AS least_mm2,
               coalesce(u.needed_mm2, u.needed_mm2_high) * $margin  AS most_mm2,
               g.conductor_size                         AS actual,
               CASE WHEN actual >= most_mm2 THEN TRUE WHEN actual < least_mm2 THEN FALSE END AS ok,
               if(ok IS FALSE, least_mm2, most_mm2)     AS required,
               'mm2'                                    AS unit,
               u.needed_mm2_low * $margin AS required_low, u.needed_mm2_high * $margin AS required_high,
               required / $margin                       AS area_mm2,
               coalesce(u.current_a, u.current_a_low)   AS amperes,
               coalesce(u.duration_s, u.duration_s_low) AS seconds,
               u.decrement, u.fault_bus, u.conductor_share,
               coalesce(replace(g.conductor_material, '_', ' '), 'material not on record')      AS material,
               coalesce(format('{:.0f} degC', u.limit_c), 'the highest that the record admits') AS limit_words,
               if(u.needed_mm2 IS NULL, '; first put on record what the area hangs on, the material', '') AS first
        FROM inventory.ground_grid g
        LEFT JOIN study.grid_conductor_duty u USING (substation, ground_grid)
    """,
    message="the conductor of mat {asset} has {actual} mm2; a ground fault at bus {fault_bus} needs {required} mm2",
    working="{amperes} A for {seconds:g} s at bus {fault_bus}, D_f = {decrement:.3f}\n"
    "share in one conductor s = {conductor_share:g}\n"
    "{material}, T_m = {limit_words}: A_needed = {area_mm2} mm2\n"
    "{area_mm2} mm2 x {margin:g} margin = {required} mm2\n"
    "{actual} mm2 < {required} mm2",
    remedy="a conductor of {required} mm2 or more in parallel with the present one wherever a strap enters the "
    "mat; or clear the fault sooner{first}",
    caution="Whoever digs at a mat may bridge touch and step voltages: bond across a conductor before cutting it.",
    cannot_see="Corrosion, and conductors of other sizes in the same mat.",
    examples={
        "exception: little less than needed": inventory(56.3),
        "satisfied: exactly the area needed": inventory(56.4),
        "satisfied: more": inventory(70.0),
        "exception: area met, margin not": inventory(56.4, margin=1.2),
        "satisfied: exactly the most that may be needed": inventory(60.0, BOUNDS),
        "exception: below the least that may be needed": inventory(49.0, BOUNDS),
        "not assessable: exactly the least that may be needed": inventory(50.0, BOUNDS, conductor_material=None),
        "not assessable: size not on record": inventory(None),
        "not assessable: fault not computed": {"ground_grid": [GRID]},
    },
)
