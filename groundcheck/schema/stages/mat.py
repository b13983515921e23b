"""What bonds, mat, shield wires and doubly grounded secondary circuits carry in a ground fault."""

import pandas as pd

from groundcheck.schema.columns import key, quantity, text, yes_no
from groundcheck.schema.stages.bounds import HIGH, LOW
from groundcheck.schema.table import Table


class BondDuty(Table):
    """The heaviest fault that a bond of equipment to the mat may carry, and the area that it needs."""

    substation: str = key("Station of the bond.")
    bond: str = key("Bond.")
    current_a: float = quantity("Symmetrical fault current.", "A")
    current_a_low: float = quantity(LOW, "A")
    current_a_high: float = quantity(HIGH, "A")
    duration_s: float = quantity("How long.", "s")
    duration_s_low: float = quantity(LOW, "s")
    duration_s_high: float = quantity(HIGH, "s")
    x_over_r: float = quantity("Reactance over resistance of the fault's loop.", None)
    decrement: float = quantity("RMS over the fault, DC offset included, per unit of the symmetrical current.", "pu")
    fault: str = text("line_to_ground, or second_ground_fault where the zone runs on through the first.")
    fault_substation: str = text("Station of the bus whose fault it is.")
    fault_bus: str = text("That bus.")
    stands_at: str = text("bus: the fault is at a bus of its equipment; station: that is not on record.")
    limit_c: float = quantity("Temperature that conductor and weakest joint bear.", "degC")
    strap_share: float = quantity("Share of the current in the most loaded of its straps.", "pu")
    needed_mm2: float = quantity("Area that the whole current needs.", "mm2")
    needed_mm2_low: float = quantity(LOW, "mm2")
    needed_mm2_high: float = quantity(HIGH, "mm2")
    installed_mm2: float = quantity("Area of one strap over its share of the current.", "mm2")
    installed_mm2_low: float = quantity(LOW, "mm2")
    installed_mm2_high: float = quantity(HIGH, "mm2")
    bears_a: float = quantity("Symmetrical current that the installed area bears for that time.", "A")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")


class GridConductorDuty(Table):
    """The heaviest fault that the conductor of a ground mat may carry, and the area that it needs."""

    substation: str = key("Station of the mat.")
    ground_grid: str = key("Mat.")
    current_a: float = quantity("Symmetrical fault current of the station's worst bus.", "A")
    current_a_low: float = quantity(LOW, "A")
    current_a_high: float = quantity(HIGH, "A")
    duration_s: float = quantity("How long.", "s")
    duration_s_low: float = quantity(LOW, "s")
    duration_s_high: float = quantity(HIGH, "s")
    x_over_r: float = quantity("Reactance over resistance of the fault's loop.", None)
    decrement: float = quantity("RMS over the fault, DC offset included, per unit of the symmetrical current.", "pu")
    fault: str = text("line_to_ground, or second_ground_fault where the zone runs on through the first.")
    fault_substation: str = text("Station of the bus whose fault it is.")
    fault_bus: str = text("That bus.")
    limit_c: float = quantity("Temperature that conductor and joints bear.", "degC")
    conductor_share: float = quantity("Share of the current in one conductor of the mat.", "pu")
    needed_mm2: float = quantity("Area that this share needs.", "mm2")
    needed_mm2_low: float = quantity(LOW, "mm2")
    needed_mm2_high: float = quantity(HIGH, "mm2")
    installed_mm2: float = quantity("Area of the conductor.", "mm2")
    installed_mm2_low: float = quantity(LOW, "mm2")
    installed_mm2_high: float = quantity(HIGH, "mm2")
    bears_a: float = quantity("Symmetrical fault current of which the conductor bears its share for that time.", "A")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")


class GroundGridDuty(Table):
    """What a ground mat does in the ground fault that drives most current through it into the earth."""

    substation: str = key("Station of the mat.")
    ground_grid: str = key("Mat.")
    sverak_ohm: float = quantity("Resistance to remote ground by Sverak's equation.", "ohm")
    sverak_ohm_low: float = quantity(LOW, "ohm")
    sverak_ohm_high: float = quantity(HIGH, "ohm")
    schwarz_ohm: float = quantity("The same by Schwarz's equations.", "ohm")
    measured_over_computed: float = quantity("Measured resistance over Sverak's.", "pu")
    measured_over_computed_low: float = quantity(LOW, "pu")
    measured_over_computed_high: float = quantity(HIGH, "pu")
    resistance_ohm: float = quantity("Resistance that the rest uses: the measured one, else Sverak's.", "ohm")
    resistance_ohm_low: float = quantity(LOW, "ohm")
    resistance_ohm_high: float = quantity(HIGH, "ohm")
    resistance_basis: str = text("measured or computed.")
    fault_substation: str = text("Station of the bus whose fault drives most current into the earth here.")
    fault_bus: str = text("That bus.")
    fault_a: float = quantity("Ground-fault current there.", "A")
    earth_current_a: float = quantity("What of it does not return through neutrals on the faulted station's mat.", "A")
    earth_current_a_low: float = quantity(LOW, "A")
    earth_current_a_high: float = quantity(HIGH, "A")
    split_factor: float = quantity("Share of that which passes from the mat into the earth.", "pu")
    split_factor_low: float = quantity(LOW, "pu")
    split_factor_high: float = quantity(HIGH, "pu")
    decrement: float = quantity("What the DC offset adds.", "pu")
    grid_current_a: float = quantity("Current from the mat into the earth, DC offset included.", "A")
    grid_current_a_low: float = quantity(LOW, "A")
    grid_current_a_high: float = quantity(HIGH, "A")
    gpr_v: float = quantity("Rise of the mat above remote ground.", "V")
    gpr_v_low: float = quantity(LOW, "V")
    gpr_v_high: float = quantity(HIGH, "V")
    fault_duration_s: float = quantity("How long.", "s")
    fault_duration_s_low: float = quantity(LOW, "s")
    fault_duration_s_high: float = quantity(HIGH, "s")
    within_limits: pd.BooleanDtype = yes_no("Whether the equations for mesh and step voltage hold for its geometry.")
    mesh_v: float = quantity("Touch voltage in the worst mesh.", "V")
    mesh_v_low: float = quantity(LOW, "V")
    mesh_v_high: float = quantity(HIGH, "V")
    step_v: float = quantity("Step voltage at the edge.", "V")
    step_v_low: float = quantity(LOW, "V")
    step_v_high: float = quantity(HIGH, "V")
    footing_ohm_m: float = quantity("Resistivity under the feet: C_s times that of the surfacing.", "ohm m")
    touch_50_v: float = quantity("Touch voltage that a person of 50 kg bears.", "V")
    touch_50_v_low: float = quantity(LOW, "V")
    touch_50_v_high: float = quantity(HIGH, "V")
    step_50_v: float = quantity("Step voltage that a person of 50 kg bears.", "V")
    step_50_v_low: float = quantity(LOW, "V")
    step_50_v_high: float = quantity(HIGH, "V")
    touch_70_v: float = quantity("Touch voltage that a person of 70 kg bears.", "V")
    touch_70_v_low: float = quantity(LOW, "V")
    touch_70_v_high: float = quantity(HIGH, "V")
    step_70_v: float = quantity("Step voltage that a person of 70 kg bears.", "V")
    step_70_v_low: float = quantity(LOW, "V")
    step_70_v_high: float = quantity(HIGH, "V")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")


class ShieldWire(Table):
    """What the shield wire of a line takes over, at each end whose mat it may relieve."""

    substation: str = key("Station at which the line is recorded.")
    line: str = key("Line.")
    end: str = key("from or to.")
    end_substation: str = text("Station at that end.")
    end_bus: str = text("Bus at that end.")
    has_wire: pd.BooleanDtype = yes_no("Whether it has a shield wire.")
    bonded: pd.BooleanDtype = yes_no("Whether the wire is bonded to the mat at that end.")
    reduction: float = quantity("Share of the line's ground-fault current that returns through the earth.", "pu")
    reduction_low: float = quantity(LOW, "pu")
    reduction_high: float = quantity(HIGH, "pu")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")


class SecondaryLoop(Table):
    """A secondary circuit grounded at two points or more: the mat's voltage drives a current through its wiring."""

    substation: str = key("Station of the circuit.")
    secondary_circuit: str = key("Circuit.")
    mat_voltage_v: float = quantity("Voltage between two points of the mat.", "V")
    mat_voltage_v_low: float = quantity(LOW, "V")
    mat_voltage_v_high: float = quantity(HIGH, "V")
    wire_ohm: float = quantity("Resistance of one wire.", "ohm")
    wire_ohm_low: float = quantity(LOW, "ohm")
    wire_ohm_high: float = quantity(HIGH, "ohm")
    mat_ohm: float = quantity("Resistance of the mat and the ground leads between the two points.", "ohm")
    wire_current_a: float = quantity("Current through the wire.", "A")
    wire_current_a_low: float = quantity(LOW, "A")
    wire_current_a_high: float = quantity(HIGH, "A")
    bypassed_share: float = quantity("Share of a true residual current that passes the wire by.", "pu")
    bypassed_share_low: float = quantity(LOW, "pu")
    bypassed_share_high: float = quantity(HIGH, "pu")
    duration_s: float = quantity("How long the fault lasts.", "s")
    bears_a: float = quantity("Current that the insulation of the wire bears for that time.", "A")
    bears_a_low: float = quantity(LOW, "A")
    bears_a_high: float = quantity(HIGH, "A")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")


MAT_TABLES: dict[str, type[Table]] = {
    "bond_duty": BondDuty,
    "grid_conductor_duty": GridConductorDuty,
    "ground_grid_duty": GroundGridDuty,
    "shield_wire": ShieldWire,
    "secondary_loop": SecondaryLoop,
}
