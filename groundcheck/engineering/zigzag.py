"""Zero sequence of zigzag windings and of grounding transformers."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def grounding_transformer_z0(z0_ohm: ArrayLike, r0_ohm: ArrayLike = 0.0) -> NDArray[np.complex128]:
    """
    Complex zero-sequence impedance of a grounding transformer from its nameplate.

    Parameters
    ----------
    z0_ohm : array_like, shape (n,)
        Magnitude of the zero-sequence impedance of one phase; infinite is no path. [ohm]
    r0_ohm : array_like, shape (n,)
        Its resistance. [ohm]

    Returns
    -------
    ndarray of complex, shape (n,)
        Impedance of one phase, to which the caller adds 3Zn. [ohm] Infinite where z0_ohm is;
        NaN where r0_ohm is above z0_ohm and where an input is not on record.

    Raises
    ------
    ValueError
        z0_ohm or r0_ohm is negative.

    Notes
    -----
    X0 = sqrt(Z0^2 - R0^2). Some makers give the ohms of the whole neutral, one third of this.
    Positive sequence sees the magnetizing impedance only: open.

    Source: derived from the definition of impedance; IEC 60076-6, grounding transformers (recalled).
    """
    z0, r0 = np.asarray(z0_ohm, dtype=float), np.asarray(r0_ohm, dtype=float)
    if (z0 < 0).any() or (r0 < 0).any():
        raise ValueError("z0_ohm and r0_ohm must not be negative")
    no_path = np.isinf(z0)
    z0, r0 = np.where(no_path, 0.0, z0), np.where(no_path, 0.0, r0)
    with np.errstate(invalid="ignore"):
        x0 = np.sqrt((z0 - r0) * (z0 + r0))
    return np.where(no_path, np.inf, r0 + 1j * x0)


def zigzag_winding_z0(z_leakage_ohm: ArrayLike) -> NDArray[np.complex128]:
    """
    Typical zero-sequence impedance of the zigzag winding of a Dzn or Yzn transformer.

    Parameters
    ----------
    z_leakage_ohm : array_like of complex, shape (n,)
        Positive-sequence leakage impedance seen from the zigzag winding. [ohm]

    Returns
    -------
    ndarray of complex, shape (n,)
        Shunt from the zigzag terminals to its neutral, one phase. [ohm] The other winding is
        open. Infinite where the leakage is, NaN where it is not on record.

    Raises
    ------
    ValueError
        A leakage resistance is negative.

    Notes
    -----
    R0 = 0.4 R1, X0 = 0.1 X1: a typical value, to be replaced by the test report.

    Source: Kasikci, Short Circuits in Power Systems: A Practical Guide to IEC 60909, Wiley-VCH 2002, tables 8.22-8.26.
    """
    leakage = np.asarray(z_leakage_ohm, dtype=complex)
    if (leakage.real < 0).any():
        raise ValueError("z_leakage_ohm must not have a negative resistance")
    no_path = np.isinf(leakage)
    finite = np.where(no_path, 0.0, leakage)
    return np.where(no_path, np.inf, 0.4 * finite.real + 0.1j * finite.imag)
