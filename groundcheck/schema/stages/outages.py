"""What is left with each ground source out of service."""

import pandas as pd

from groundcheck.schema.columns import count, key, quantity, text, yes_no
from groundcheck.schema.stages.bounds import HIGH, LOW
from groundcheck.schema.table import Table


class SourceOutage(Table):
    """A zone with a ground source out that grounds or feeds it, or with one of its neutral devices open."""

    zone: str = key("Zone.")
    source_substation: str = text("Station of what is out.")
    source_kind: str = key("transformer, grounding_transformer, generator, infeed, or neutral_device (open).")
    source: str = key("Its tag.")
    result: str = text("kept, lost_effectiveness, ungrounded, dead (its supply went too), or unknown.")
    sources_left: pd.Int64Dtype = count("Ground sources on record that are left.")
    grounding_class: str = text("Grounding class that is left; blank where it is dead, or not on record.")
    cog_before: float = quantity("Largest coefficient of grounding with all in service.", None)
    cog_before_low: float = quantity(LOW, None)
    cog_before_high: float = quantity(HIGH, None)
    cog: float = quantity("Largest coefficient of grounding that is left; blank where it is dead.", None)
    cog_low: float = quantity(LOW, None)
    cog_high: float = quantity(HIGH, None)
    healthy_phase_kv: float = quantity("Largest healthy-phase voltage to ground that is left.", "kV")
    healthy_phase_kv_low: float = quantity(LOW, "kV")
    healthy_phase_kv_high: float = quantity(HIGH, "kV")
    line_to_ground_ka: float = quantity("Smallest line-to-ground current that is left, minimum condition.", "kA")
    line_to_ground_ka_low: float = quantity(LOW, "kA")
    line_to_ground_ka_high: float = quantity(HIGH, "kA")
    largest_line_to_ground_ka: float = quantity("Largest that is left, maximum condition.", "kA")
    largest_line_to_ground_ka_low: float = quantity(LOW, "kA")
    largest_line_to_ground_ka_high: float = quantity(HIGH, "kA")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")


class OutageBus(Table):
    """A bus whose healthy phases rise further with a ground source out, or may; in the maximum condition."""

    substation: str = key("Station of the bus.")
    bus: str = key("Bus.")
    source_substation: str = text("Station of what is out.")
    source_kind: str = key("Its kind.")
    source: str = key("Its tag.")
    healthy_phase_kv: float = quantity("Larger healthy-phase voltage to ground in a line-to-ground fault.", "kV")
    healthy_phase_kv_low: float = quantity(LOW, "kV")
    healthy_phase_kv_high: float = quantity(HIGH, "kV")
    line_to_ground_ka: float = quantity("Line-to-ground current.", "kA")
    line_to_ground_ka_low: float = quantity(LOW, "kA")
    line_to_ground_ka_high: float = quantity(HIGH, "kA")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")


class OutageRelay(Table):
    """A current relay in a zone that is not dead with a ground source out; one whose own neutral is out has no row."""

    substation: str = key("Station of the relay.")
    ground_relay: str = key("Relay.")
    source_substation: str = text("Station of what is out.")
    source_kind: str = key("Its kind.")
    source: str = key("Its tag.")
    smallest_fault_a: float = quantity("Smallest current that it must see, minimum condition.", "A")
    smallest_fault_a_low: float = quantity(LOW, "A")
    smallest_fault_a_high: float = quantity(HIGH, "A")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")


OUTAGE_TABLES = {"source_outage": SourceOutage, "outage_bus": OutageBus, "outage_relay": OutageRelay}
