"""Area that one kiloampere for one second needs, by material and joint, known or not."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import fusing_area_mm2, material_constant, temperature_limit_c
from groundcheck.policy import Policy
from groundcheck.schema.vocabulary import CONDUCTOR_MATERIAL, JOINT_KINDS
from groundcheck.study.bounded import Bounded

Floats = NDArray[np.float64]
Words = NDArray[np.object_]


def strap_constant(material: Words, joint: Words, policy: Policy) -> tuple[Bounded, Floats]:
    """
    Area per kA s^0.5 of each strap, and the temperature that it bears.

    The bounds are those of all materials and joints where one is not on record.
    """
    metals, joints = list(CONDUCTOR_MATERIAL), list(JOINT_KINDS)
    limit = joint_limit(np.array(metals, dtype=object)[:, None], np.array(joints, dtype=object), policy)
    table = unit_area(np.array(metals, dtype=object)[:, None], limit, policy)
    metal, kind = _places(material, metals), _places(joint, joints)
    known = (metal >= 0) & (kind >= 0)
    value = np.where(known, table[metal, kind], np.nan)
    low, high = (_at(_extended(table, end), metal, kind) for end in (np.min, np.max))
    return Bounded(value, low, high), np.where(known, limit[metal, kind], np.nan)


def joint_limit(material: Words, joint: Words, policy: Policy) -> Floats:
    """Temperature that metal and joint bear, by the policy's limits for joints; of every pair of the two."""
    fusing, kind = np.broadcast_arrays(material_constant(material, "fusing_c"), joint)
    return temperature_limit_c(
        fusing, kind, policy["bonding.bolted_limit"], policy["bonding.compression_limit"],
        policy["bonding.brazed_limit"],
    )  # fmt: skip


def unit_area(material: Words, limit_c: Floats, policy: Policy) -> Floats:
    """Area for 1 kA and 1 s."""
    names = ("alpha_r", "k0", "resistivity", "heat_capacity")
    constants = {name: material_constant(material, name) for name in names}
    return fusing_area_mm2(1.0, 1.0, **constants, limit_c=limit_c, ambient_c=float(policy["bonding.ambient"]))


def _places(words: Words, of: list[str]) -> NDArray[np.int64]:
    return np.array([of.index(w) if w is not None else -1 for w in words], dtype=np.int64)


def _extended(table: Floats, end: Callable[..., Floats]) -> Floats:
    """The table with a last row and column for what is not on record: the end over all that it may be."""
    rows = np.vstack([table, end(table, axis=0)])
    return np.hstack([rows, end(rows, axis=1)[:, None]])


def _at(table: Floats, row: NDArray[np.int64], column: NDArray[np.int64]) -> Floats:
    """Entries of the extended table; -1 is its last row or column."""
    return table[row, column]
