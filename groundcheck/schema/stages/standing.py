"""What a ground fault does that stands, and what may go wrong without one: by zone."""

import pandas as pd

from groundcheck.schema.columns import key, quantity, text, yes_no
from groundcheck.schema.stages.bounds import HIGH, LOW
from groundcheck.schema.table import Table

PROVISIONAL = "Whether an assumed value stands behind it."


class StandingFault(Table):
    """A zone that runs on through a ground fault, or may turn out to: what flows, and for how long it may."""

    zone: str = key("Zone: ungrounded, resonant, high-resistance, or of a class that is not known.")
    substation: str = text("Station of the naming bus.")
    bus: str = text("The bus that names the zone.")
    nominal_kv: float = quantity("Nominal voltage.", "kV")
    grounding_class: str = text("Grounding class; blank if not known.")
    charging_a: float = quantity("Charging current of the zone (3I0).", "A")
    charging_a_low: float = quantity(LOW, "A")
    charging_a_high: float = quantity(HIGH, "A")
    standing_a: float = quantity("Largest line-to-ground current that stands.", "A")
    standing_a_low: float = quantity(LOW, "A")
    standing_a_high: float = quantity(HIGH, "A")
    second_smallest_ka: float = quantity(
        "Smallest current of a second ground fault, on another phase at any other bus; blank also in a zone with more "
        "buses than the policy lets pair.", "kA",
    )  # fmt: skip
    second_smallest_ka_low: float = quantity(LOW, "kA")
    second_smallest_ka_high: float = quantity(HIGH, "kA")
    second_largest_ka: float = quantity("Largest current of a second ground fault: at the strongest bus.", "kA")
    second_largest_ka_low: float = quantity(LOW, "kA")
    second_largest_ka_high: float = quantity(HIGH, "kA")
    may_run_s: float = quantity("How long its assets bear a standing fault; infinite where none limits it.", "s")
    may_run_s_low: float = quantity(LOW, "s")
    may_run_s_high: float = quantity(HIGH, "s")
    limit_substation: str = text("Station of the asset that limits it.")
    limit_kind: str = text("Kind of that asset.")
    limit_asset: str = text("Its tag.")
    limit_field: str = text("The field of its record that does.")
    provisional: pd.BooleanDtype = yes_no(PROVISIONAL)


class RunOnLimit(Table):
    """How long one asset bears the standing fault of its zone."""

    substation: str = key("Station of the asset.")
    asset_kind: str = key("neutral_device, grounding_transformer, instrument_transformer or insulation.")
    asset: str = key("Its tag.")
    zone: str = text("Zone.")
    field: str = text("The field that decides it, or that would.")
    bears_s: float = quantity("How long; infinite is without limit.", "s")
    bears_s_low: float = quantity(LOW, "s")
    bears_s_high: float = quantity(HIGH, "s")


class TransientScreen(Table):
    """Whether an arcing ground fault in a zone can build up overvoltage."""

    zone: str = key("Zone.")
    substation: str = text("Station of the naming bus.")
    bus: str = text("The bus that names the zone.")
    nominal_kv: float = quantity("Nominal voltage.", "kV")
    grounding_class: str = text("Grounding class; blank if not known.")
    charging_a: float = quantity("Charging current of the zone (3I0).", "A")
    charging_a_low: float = quantity(LOW, "A")
    charging_a_high: float = quantity(HIGH, "A")
    resistor_a: float = quantity("V_LN/R of all neutral resistors together; blank where there is none.", "A")
    resistor_a_low: float = quantity(LOW, "A")
    resistor_a_high: float = quantity(HIGH, "A")
    resistor_over_charging: float = quantity("That over the charging current.", None)
    resistor_over_charging_low: float = quantity(LOW, None)
    resistor_over_charging_high: float = quantity(HIGH, None)
    x0_over_x1: float = quantity("Largest X0/X1 of its buses; blank without reactor or grounding transformer.", None)
    x0_over_x1_low: float = quantity(LOW, None)
    x0_over_x1_high: float = quantity(HIGH, None)
    r0_over_x0: float = quantity("Smallest R0/X0 of its buses; blank where there is no resistor.", None)
    r0_over_x0_low: float = quantity(LOW, None)
    r0_over_x0_high: float = quantity(HIGH, None)
    largest_resistance_ohm: float = quantity("Largest neutral resistance that passes the charging current.", "ohm")
    reactance_change_ohm: float = quantity(
        "Reactance to add to its only grounded neutral for the X0/X1 of the policy; negative: to take away.", "ohm"
    )
    resistance_change_ohm: float = quantity(
        "Resistance to add to its only grounded neutral for the R0/X0 of the policy.", "ohm"
    )
    provisional: pd.BooleanDtype = yes_no(PROVISIONAL)


class FerroresonanceScreen(Table):
    """A voltage transformer in a zone that is, or may be, ungrounded."""

    substation: str = key("Station.")
    instrument_transformer: str = key("Voltage transformer.")
    zone: str = text("Zone.")
    connection: str = text("Its connection, as on record.")
    to_ground: pd.BooleanDtype = yes_no("Whether it stands between line and ground; blank if its record does not say.")
    ungrounded: pd.BooleanDtype = yes_no("Whether nothing grounds the zone; blank if the record does not say.")
    damping_resistor: float = quantity("Resistor across its broken delta, on record.", "ohm")
    prone: pd.BooleanDtype = yes_no("Between line and ground, in an ungrounded zone, no damping resistor on record.")
    charging_a: float = quantity("Charging current of the zone (3I0).", "A")
    charging_a_low: float = quantity(LOW, "A")
    charging_a_high: float = quantity(HIGH, "A")
    provisional: pd.BooleanDtype = yes_no(PROVISIONAL)


STANDING_TABLES: dict[str, type[Table]] = {
    "standing_fault": StandingFault,
    "run_on_limit": RunOnLimit,
    "transient_screen": TransientScreen,
    "ferroresonance_screen": FerroresonanceScreen,
}
