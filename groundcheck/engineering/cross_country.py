"""Two ground faults at two places, on two phases, of a zone that passes little current in the first."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def second_ground_fault_ka(
    voltage_kv: ArrayLike,
    z1_first_ohm: ArrayLike,
    z1_second_ohm: ArrayLike,
    z1_transfer_ohm: ArrayLike,
    z0_loop_ohm: ArrayLike,
) -> NDArray[np.float64]:
    """
    Current between two ground faults in a zone without a neutral path.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage before the fault, voltage factor included. [kV]
    z1_first_ohm, z1_second_ohm, z1_transfer_ohm : array_like of complex, shape (n,)
        Positive-sequence impedance at each fault, and between them: voltage at one for a
        current into the other. Equal to the negative-sequence ones. [ohm]
    z0_loop_ohm : array_like of complex, shape (n,)
        Zero-sequence impedance of the lines from one fault to the other, the ground as return.
        [ohm]

    Returns
    -------
    ndarray, shape (n,)
        Current from line to ground at each fault. [kA] Infinite where all impedances are zero;
        NaN where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is negative.

    Notes
    -----
    I = 3 V/|2 Z1ii + 2 Z1jj + 2 Z1ij + Z0|. With one feeder from source d to the first fault
    and on to the second, f, that is 3 c Un/|6 Z1d + 2 Z1f + Z0f|. Capacitance and neutral
    device are left out: amperes beside kiloamperes.

    Source: derived from the sequence networks of two simultaneous faults; IEC 60909-3 (recalled) for one feeder.
    """
    voltage = np.asarray(voltage_kv, dtype=float)
    if (voltage < 0).any():
        raise ValueError("voltage_kv must not be negative")
    first, second, transfer, loop = (
        np.asarray(z, dtype=complex) for z in (z1_first_ohm, z1_second_ohm, z1_transfer_ohm, z0_loop_ohm)
    )
    with np.errstate(divide="ignore"):
        current: NDArray[np.float64] = 3 * voltage / np.abs(2 * (first + second + transfer) + loop)
    return current


def second_ground_fault_ceiling_ka(three_phase_ka: ArrayLike) -> NDArray[np.float64]:
    """
    The most that two ground faults in a zone without a neutral path draw.

    Parameters
    ----------
    three_phase_ka : array_like, shape (n,)
        Largest three-phase fault current in the zone. [kA]

    Returns
    -------
    ndarray, shape (n,)
        Current. [kA] NaN where it is not on record.

    Raises
    ------
    ValueError
        A current is negative.

    Notes
    -----
    I <= sqrt(3)/2 I_3, reached when both faults are at that bus. It holds while the lines
    between two buses have no less impedance in the zero sequence than in the positive one.

    Source: derived; Kasikci, Short Circuits in Power Systems, chapter 7, gives 0.85.
    """
    current = np.asarray(three_phase_ka, dtype=float)
    if (current < 0).any():
        raise ValueError("three_phase_ka must not be negative")
    ceiling: NDArray[np.float64] = np.sqrt(3) / 2 * current
    return ceiling
