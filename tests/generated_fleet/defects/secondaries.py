"""Defects of instrument transformer circuits."""

import numpy as np
from generated_fleet.defects.register import changed, defect, heavy, one
from generated_fleet.station import Rows


@defect("secondaries/no-ground")
def link_left_out(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The link was left out after a change of panels."""
    return changed(rows, one(rows, rng, "secondary_circuit"), ground_points="none")


@defect(
    "secondaries/several-grounds",
    secondaries__double_ground_current="the mat drives a current through the two",
)
def grounded_at_the_box_as_well(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The fuse box was bonded as well."""
    return changed(rows, one(rows, rng, "secondary_circuit"), ground_points="terminal box; relay panel")


@defect("secondaries/ground-place")
def grounded_in_the_yard(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The one ground stands at the transformer, out of reach of who tests the relay."""
    return changed(rows, one(rows, rng, "secondary_circuit"), ground_points="CT terminal box")


@defect(
    "secondaries/double-ground-current",
    secondaries__several_grounds="it is grounded twice",
)
def second_ground_on_a_ct_circuit(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A CT circuit grounded in the yard and at the panel."""
    circuit = one(rows, rng, "secondary_circuit", kind="ct") if heavy(rows) else None
    return changed(rows, circuit, ground_points="CT terminal box; relay panel")


@defect("secondaries/ground-record")
def circuit_left_out_of_the_list(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The list of circuits has none of this instrument transformer."""
    circuit = one(rows, rng, "secondary_circuit")
    rows["secondary_circuit"] = [each for each in rows["secondary_circuit"] if each is not circuit]
    return rows if rows["secondary_circuit"] else None
