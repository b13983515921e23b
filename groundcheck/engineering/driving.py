"""What drives a fault, and the impedance of the fault itself: inputs that the fault formulas share."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def line_to_neutral_kv(voltage_kv: ArrayLike) -> NDArray[np.float64]:
    """
    Line-to-neutral voltage of a line-to-line voltage.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage. [kV]

    Returns
    -------
    ndarray, shape (n,)
        Line-to-neutral voltage. [kV] NaN where the voltage is not on record.

    Raises
    ------
    ValueError
        A voltage is negative.

    Notes
    -----
    V_LN = V_LL/sqrt(3).

    Source: derived.
    """
    voltage = np.asarray(voltage_kv, dtype=float)
    if (voltage < 0).any():
        raise ValueError("voltage_kv must not be negative")
    phase_kv: NDArray[np.float64] = voltage / np.sqrt(3)
    return phase_kv


def fault_impedance(fault_ohm: ArrayLike) -> NDArray[np.complex128]:
    """
    Impedance of a fault, checked.

    Parameters
    ----------
    fault_ohm : array_like of complex, shape (n,)
        Impedance of the fault. [ohm]

    Returns
    -------
    ndarray, shape (n,)
        The same as an array of complex. [ohm]

    Raises
    ------
    ValueError
        An impedance is infinite or has a negative resistance.

    Notes
    -----
    An infinite impedance is no fault.

    Source: derived.
    """
    zf = np.asarray(fault_ohm, dtype=complex)
    if np.isinf(zf).any() or (zf.real < 0).any():
        raise ValueError("fault_ohm must be finite and its resistance must not be negative")
    return zf
