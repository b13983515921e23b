"""How much of a stator winding a ground relay protects."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def voltage_coverage(pickup_v: ArrayLike, full_v: ArrayLike) -> NDArray[np.float64]:
    """
    Share of a stator winding that a neutral overvoltage relay protects, counted from the terminals.

    Parameters
    ----------
    pickup_v : array_like, shape (n,)
        Pickup. [V]
    full_v : array_like, shape (n,)
        What the relay sees in a solid fault at the terminals, on the same side of its
        transformer as pickup_v. [V]

    Returns
    -------
    ndarray, shape (n,)
        Share. [1] Zero where the pickup is above what the relay ever sees; NaN where an
        input is not on record.

    Raises
    ------
    ValueError
        A pickup is negative, or full_v is not positive.

    Notes
    -----
    1 - V_pickup/V_full: the neutral rises in proportion to the turns between it and the
    fault. The third harmonic of the sound machine, and the share that a relay of its own
    for the neutral end sees, are left out.

    Source: IEEE Std C37.101, neutral overvoltage scheme (recalled).
    """
    pickup, full = np.asarray(pickup_v, dtype=float), np.asarray(full_v, dtype=float)
    if (pickup < 0).any() or (full <= 0).any():
        raise ValueError("pickup_v must not be negative and full_v must be positive")
    share: NDArray[np.float64] = np.maximum(1 - pickup / full, 0.0)
    return share


def current_coverage(pickup_a: ArrayLike, resistance_ohm: ArrayLike, voltage_kv: ArrayLike) -> NDArray[np.float64]:
    """
    Share of a stator winding that a current relay protects beside a resistor in the neutral.

    Parameters
    ----------
    pickup_a : array_like, shape (n,)
        Pickup of the overcurrent or differential relay, in primary amperes. [A]
    resistance_ohm : array_like, shape (n,)
        Resistance in the neutral. [ohm]
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage of the machine. [kV]

    Returns
    -------
    ndarray, shape (n,)
        Share, counted from the terminals. [1] Zero where not even a fault at the terminals
        is seen; NaN where an input is not on record.

    Raises
    ------
    ValueError
        A pickup or resistance is negative, or a voltage is not positive.

    Notes
    -----
    1 - I_pickup R_n/V_LN: a fault at a share of the winding from the neutral drives that
    share of V_LN through R_n. The winding's own impedance is left out, which matters
    only where R_n is small.

    Source: Wadhwa, Electrical Power Systems, chapter on protection, example 14.4.
    """
    pickup, resistance = np.asarray(pickup_a, dtype=float), np.asarray(resistance_ohm, dtype=float)
    voltage = np.asarray(voltage_kv, dtype=float)
    if (pickup < 0).any() or (resistance < 0).any() or (voltage <= 0).any():
        raise ValueError("pickup_a and resistance_ohm must not be negative; voltage_kv must be positive")
    share: NDArray[np.float64] = np.maximum(1 - pickup * resistance / (voltage * 1000 / np.sqrt(3)), 0.0)
    return share
