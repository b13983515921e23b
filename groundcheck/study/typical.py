"""Typical values in place of those not on record, where the policy allows: each use goes to the ledger."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from groundcheck.policy import Policy
from groundcheck.study.ledger import Ledger

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Typical:
    """Fills gaps of one kind of asset."""

    ledger: Ledger
    policy: Policy

    def fill(
        self,
        kind: str,
        column: str,
        found: Floats,
        switch: str,
        value: float | Floats,
        *,
        unit: str,
        why: str,
        nodes: dict[str, Ints],
    ) -> Floats:
        """`found` with its gaps filled if policy assume.`switch` is on; a gap whose `value` is NaN stays one."""
        values = np.broadcast_to(np.asarray(value, dtype=float), found.shape)
        gaps = np.isnan(found) & ~np.isnan(values)
        if not self.policy.admits(switch) or not gaps.any():
            return found
        texts = np.array([f"{v:.4g} {unit}".strip() for v in values], dtype=object)
        self.ledger.assume(kind, gaps, column, texts, why, nodes)
        return np.where(gaps, values, found)
