"""Impedances of synchronous machines."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def machine_impedance_ohm(
    x_pu: ArrayLike, r_pu: ArrayLike, rated_kv: ArrayLike, rated_mva: ArrayLike
) -> NDArray[np.complex128]:
    """
    Impedance of a machine from its per-unit reactance and resistance.

    Parameters
    ----------
    x_pu, r_pu : array_like, shape (n,)
        Reactance (subtransient, negative- or zero-sequence) and resistance on the machine's
        own rating; infinite is no path, as in the zero sequence of a delta winding. [pu]
    rated_kv : array_like, shape (n,)
        Rated line-to-line voltage. [kV]
    rated_mva : array_like, shape (n,)
        Rated power. [MVA]

    Returns
    -------
    ndarray of complex, shape (n,)
        Impedance of one phase. [ohm] Infinite where x_pu or r_pu is, NaN where an input is
        not on record.

    Raises
    ------
    ValueError
        A rated voltage or power is not positive.

    Notes
    -----
    Z = (r + jx) U_r^2/S_r, without the factor K_G of IEC 60909-0.

    Source: IEC 60909-0, synchronous generators (clause recalled).
    """
    x, r = np.asarray(x_pu, dtype=float), np.asarray(r_pu, dtype=float)
    voltage, power = np.asarray(rated_kv, dtype=float), np.asarray(rated_mva, dtype=float)
    if (voltage <= 0).any() or (power <= 0).any():
        raise ValueError("rated_kv and rated_mva must be positive")
    no_path = np.isinf(x) | np.isinf(r)
    per_unit = np.where(no_path, 0.0, r) + 1j * np.where(no_path, 0.0, x)
    return np.where(no_path, np.inf, per_unit * (voltage**2 / power))
