"""The most that a neutral passes whatever stands behind it."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import let_through_ceiling_a
from groundcheck.policy import Policy
from groundcheck.study.networks.method import largest_factor
from groundcheck.study.networks.neutrals import Neutrals
from groundcheck.study.networks.solved_networks import Networks

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]


def device_ceilings(kv: Floats, corners: Sequence[Networks], policy: Policy) -> Floats:
    """Of each neutral device in a zone of this voltage, in A; infinite where its impedance tells nothing."""
    return _most([ceiling_a(kv, n.neutrals.z_device, policy) for n in corners])


def point_ceilings(
    kv: Floats, neutrals: Neutrals, of_device: Floats, corners: Sequence[Networks], policy: Policy
) -> Floats:
    """Of each neutral point: what its own winding lets through, and the device that it has for itself."""
    points, links = neutrals.points, neutrals.links
    ceiling = np.full(len(points), np.inf)
    alone = links[~links["device"].duplicated(keep=False) & ~links["point"].duplicated(keep=False)]
    ceiling[alone["point"]] = of_device[alone["device"]]
    mine = (points["asset_kind"] == "grounding_transformer").to_numpy()
    row = points.loc[mine, "row"].to_numpy(dtype=np.int64)
    own = [ceiling_a(kv[mine], n.records.numbers("grounding_transformer", "z0")[row] / 3 + 0j, policy) for n in corners]
    ceiling[mine] = np.fmin(ceiling[mine], _most(own))
    return ceiling


def ceiling_a(kv: Floats, z_device: Complexes, policy: Policy) -> Floats:
    """The most a device passes whatever stands behind it: V_LN/|Z| and the displacement; NaN where that is no limit."""
    usable = np.isfinite(z_device) & (z_device != 0)
    driving = kv * largest_factor(kv, policy)
    found = let_through_ceiling_a(driving, np.where(usable, z_device, 1.0), policy["study.displacement_factor"])
    return np.where(usable, found, np.where(np.isinf(z_device), 0.0, np.nan))


def _most(of_corners: list[Floats]) -> Floats:
    most: Floats = np.stack([np.where(np.isnan(each), np.inf, each) for each in of_corners]).max(axis=0)
    return most
