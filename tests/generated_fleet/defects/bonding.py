"""Defects of straps."""

import numpy as np
from generated_fleet.defects.register import changed, defect, heavy, one, scaled, strike, those
from generated_fleet.station import Rows


@defect("bonding/connected-to-mat")
def strap_left_off(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A strap that does not reach the mat."""
    return changed(rows, one(rows, rng, "bond"), connected_to_grid=False)


@defect("bonding/strap-area")
def strap_too_thin(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A wire of the lighting, or of a bell, in place of a ground strap."""
    return changed(rows, one(rows, rng, "bond", equipment=("T1", "T2")), conductor_size=2.5 if heavy(rows) else 1.0)


@defect("bonding/strap-area", bonding__single_strap="one of the two straps is gone")
def steel_in_place_of_copper(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """One thin steel wire in place of two copper straps."""
    strap = one(rows, rng, "bond", equipment=("T1", "T2"))
    size = float(rng.choice([16.0, 25.0])) if heavy(rows) else 6.0
    return changed(rows, strap, conductor_material="steel", conductor_size=size, parallel=1)


@defect("bonding/single-strap")
def second_strap_taken_off(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """One strap of twice the size where two were."""
    strap = one(rows, rng, "bond", equipment=("T1", "T2")) if heavy(rows, 100.0) else None
    return scaled(rows, strap, "conductor_size", 2) if changed(rows, strap, parallel=1) else None


@defect("bonding/continuity")
def corroded_joint(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Tens of milliohms."""
    return changed(rows, one(rows, rng, "bond"), measured_resistance=round(rng.uniform(40, 200), 1))


@defect("bonding/frame-bond")
def no_strap_on_record(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A transformer whose strap nobody wrote down."""
    strap = one(rows, rng, "bond", equipment_kind=("transformer", "neutral_device", "generator"))
    if len(those(rows, "bond")) < 2:
        return None
    return strike(rows, "bond", strap)
