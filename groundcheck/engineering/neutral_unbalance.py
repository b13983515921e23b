"""Current through a neutral device while there is no fault."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def unbalance_current_a(
    voltage_kv: ArrayLike,
    z_device_ohm: ArrayLike,
    charging_a: ArrayLike,
    unbalance: ArrayLike,
    damping: ArrayLike = 0.0,
) -> NDArray[np.float64]:
    """
    Current that unequal capacitances to ground drive through a neutral device.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage of the zone. [kV]
    z_device_ohm : array_like of complex, shape (n,)
        Impedance of the device; zero is a solid link, infinite an open neutral. [ohm]
    charging_a : array_like, shape (n,)
        Charging current of the zone, 3I_C0. [A]
    unbalance : array_like, shape (n,)
        Capacitive unbalance: |C_a + a^2 C_b + a C_c| over C_a + C_b + C_c. [1]
    damping : array_like, shape (n,)
        Resistive share d of the charging current: leakage of the lines. [1]

    Returns
    -------
    ndarray, shape (n,)
        Current. [A] Infinite for a lossless coil in tune; NaN where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is not positive, or a current, unbalance or damping is negative.

    Notes
    -----
    I = k I_C/|1 + Z (d + j) I_C/V_LN|: the unbalance current k I_C divides between the device
    and the capacitance and leakage of the zone. Harmonics that the neutral gathers are left out.

    Source: derived from Kirchhoff's current law at the neutral.
    """
    voltage, charging = np.asarray(voltage_kv, dtype=float), np.asarray(charging_a, dtype=float)
    z, share = np.asarray(z_device_ohm, dtype=complex), np.asarray(unbalance, dtype=float)
    loss = np.asarray(damping, dtype=float)
    if (voltage <= 0).any() or (charging < 0).any() or (share < 0).any() or (loss < 0).any():
        raise ValueError("voltage_kv must be positive; charging_a, unbalance and damping must not be negative")
    endless = np.isinf(z)
    with np.errstate(divide="ignore", invalid="ignore"):
        divider = np.abs(1 + (loss + 1j) * np.where(endless, 0, z) * charging / (voltage * 1000 / np.sqrt(3)))
        current = share * charging / divider
    unknown = np.isnan(voltage) | np.isnan(charging) | np.isnan(share) | np.isnan(loss)
    return np.where(endless & ~unknown, 0.0, current)
