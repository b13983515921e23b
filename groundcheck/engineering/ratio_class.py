"""Class of grounding at a bus, by the ratios of its sequence impedances."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def classify_bus(
    x0_over_x1: ArrayLike,
    r0_over_x1: ArrayLike,
    ground_fault_share: ArrayLike,
    has_path: ArrayLike,
    behind_coil: ArrayLike,
) -> NDArray[np.object_]:
    """
    Characteristics of grounding by the ratios that the standard tabulates.

    Parameters
    ----------
    x0_over_x1, r0_over_x1 : array_like, shape (n,)
        Ratios at the bus; negative X0 where capacitance outweighs inductance. [1] NaN where
        not on record.
    ground_fault_share : array_like, shape (n,)
        Line-to-ground current over three-phase current. [1] NaN where not on record.
    has_path : array_like of bool, shape (n,)
        Whether anything, be it capacitance, leads zero-sequence current to ground.
    behind_coil : array_like of bool, shape (n,)
        Whether an arc-suppression coil and nothing stronger grounds the zone of the bus.

    Returns
    -------
    ndarray of object, shape (n,)
        'very_effective', 'effective', 'low_inductance', 'high_inductance', 'low_resistance',
        'high_resistance', 'inductance_and_resistance', 'resonant', 'ungrounded_a',
        'ungrounded_b'; 'none' where the ratios fit no row, None where they are not on record.

    Raises
    ------
    ValueError
        A share is negative.

    Notes
    -----
    The first row that fits, from the strictest: very effective X0/X1 <= 1, R0/X1 <= 0.1;
    effective <= 3, <= 1; low inductance <= 10, <= 1; low resistance X0/X1 <= 10, R0/X0 >= 2;
    high resistance R0/X1 > 100 with a current below 1 %; high inductance X0/X1 > 10,
    R0/X0 < 2; inductance and resistance X0/X1 > 10, R0/X0 >= 2; ungrounded A X0/X1 <= -40,
    B between -40 and 0. The table's columns of current are those of the ratios, save for
    high resistance and resonant.

    Source: IEEE Std C62.92.1, table of characteristics of grounding (recalled).
    """
    x, r = np.asarray(x0_over_x1, dtype=float), np.asarray(r0_over_x1, dtype=float)
    share = np.asarray(ground_fault_share, dtype=float)
    if (share < 0).any():
        raise ValueError("ground_fault_share must not be negative")
    path, coil = np.asarray(has_path, dtype=bool), np.asarray(behind_coil, dtype=bool)
    resistive = r >= 2 * np.abs(x)
    rows = [
        (~path, "ungrounded_a"),
        (np.isnan(x) | np.isnan(r), None),
        (coil, "resonant"),
        ((r > 100) & (share < 0.01), "high_resistance"),
        ((x >= 0) & (x <= 1) & (r <= 0.1), "very_effective"),
        ((x >= 0) & (x <= 3) & (r <= 1), "effective"),
        ((x >= 0) & (x <= 10) & (r <= 1), "low_inductance"),
        ((x >= 0) & (x <= 10) & resistive, "low_resistance"),
        ((x > 10) & resistive, "inductance_and_resistance"),
        (x > 10, "high_inductance"),
        (x <= -40, "ungrounded_a"),
        ((x < 0) & (r < np.abs(x)), "ungrounded_b"),
    ]
    found = np.full(np.broadcast_shapes(x.shape, r.shape, share.shape, path.shape, coil.shape), "none", dtype=object)
    for condition, name in reversed(rows):
        found[np.broadcast_to(condition, found.shape)] = name
    return found
