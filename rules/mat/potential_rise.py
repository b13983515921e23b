"""Mats that a ground fault raises beyond what wires to the station are insulated for."""

from groundcheck.audit import Rule

GRID = {"substation": "ELM", "ground_grid": "M1", "measured_resistance": 2.78}
# IEEE Std 80-2013, Annex B.1 (recalled; handbook section 12): 1908 A x 2.78 ohm = 5304 V.
DUTY = {"substation": "ELM", "ground_grid": "M1", "fault_bus": "B115", "grid_current_a": 1908.0, "resistance_ohm": 2.78,
        "resistance_basis": "measured", "gpr_v": 5304.0, "gpr_v_low": 5000.0, "gpr_v_high": 5600.0}  # fmt: skip


def inventory(**fields):
    """A mat and its rise."""
    return {"ground_grid": [GRID], "ground_grid_duty": [DUTY | fields]}


def between(low, high):
    """A mat whose rise is known within bounds."""
    return inventory(gpr_v=None, gpr_v_low=low, gpr_v_high=high)


RULE = Rule(
    title="The mat rises above what pilot and communication circuits are insulated for",
    severity="medium",
    why="Telephone, pilot and control wires bring remote ground into the station. Their insulation breaks down towards "
    "the raised mat in a ground fault, which injures people at either end and takes out the protection in the fault.",
    basis="IEEE 367 and IEEE 487, rise against the insulation of circuits (recalled); the limit is common practice, "
    "no source",
    asks="ground_grid",
    inputs=("ground_grid.measured_resistance", "ground_grid_duty.gpr_v"),
    policy={"limit": "ground_grid.potential_rise_limit"},
    formula="GPR = I_G R_g <= U_limit; I_G = D_f S_f (I_LG - I_local)",
    query="""
        SELECT g.substation, 'ground_grid' AS asset_kind, g.ground_grid AS asset,
               coalesce(u.gpr_v, u.gpr_v_low)    AS least_v,
               coalesce(u.gpr_v, u.gpr_v_high)   AS most_v,
               CASE WHEN most_v <= $limit THEN TRUE WHEN least_v > $limit THEN FALSE END AS ok,
               if(ok IS FALSE, least_v, most_v)  AS actual,
               $limit                            AS required,
               'V'                               AS unit,
               u.gpr_v_low AS actual_low, u.gpr_v_high AS actual_high,
               u.fault_bus, coalesce(u.grid_current_a, u.grid_current_a_low) AS amperes, u.earth_current_a,
               u.split_factor, u.decrement, coalesce(u.resistance_ohm, u.resistance_ohm_low) AS ohm, u.resistance_basis,
               $limit / amperes                  AS wanted_ohm,
               ['ground_grid_duty.gpr_v']        AS needs
        FROM inventory.ground_grid g
        LEFT JOIN study.ground_grid_duty u USING (substation, ground_grid)
    """,
    message="a ground fault at bus {fault_bus} raises mat {asset} by {actual} V; {required} V is the limit",
    working="I_LG - I_local = {earth_current_a} A at bus {fault_bus}, S_f = {split_factor}, D_f = "
    "{decrement:.3f}: I_G = {amperes} A\n"
    "{amperes} A x {ohm} ohm ({resistance_basis}) = {actual} V\n{actual} V > {required} V",
    remedy="isolate every wired circuit that leaves the station for {actual} V or more, or use optical fiber; or "
    "lower the mat's resistance to {wanted_ohm:.2g} ohm",
    caution="A circuit from outside is at remote ground: in the station treat it as live against the mat.",
    cannot_see="Whether the circuits are isolated already. Telephone companies may ask for isolation from a few "
    "hundred volts on.",
    examples={
        "exception: Annex B.1 of the standard": inventory(),
        "satisfied: exactly the limit": inventory(gpr_v=5000.0),
        "exception: a volt more": inventory(gpr_v=5001.0),
        "satisfied: 1000 V": inventory(gpr_v=1000.0),
        "exception: 8000 V": inventory(gpr_v=8000.0),
        "satisfied: exactly the limit at most": between(2000.0, 5000.0),
        "exception: more than the limit at least": between(5001.0, 9000.0),
        "not assessable: it may be more": between(5000.0, 9000.0),
        "not assessable: not computed": {"ground_grid": [GRID]},
    },
)
