"""Fault currents at a bus, from its sequence impedances."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from groundcheck.engineering.driving import fault_impedance, line_to_neutral_kv


def three_phase_ka(voltage_kv: ArrayLike, z1_ohm: ArrayLike, fault_ohm: ArrayLike = 0.0) -> NDArray[np.float64]:
    """
    Current of a three-phase fault.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage before the fault. [kV]
    z1_ohm : array_like of complex, shape (n,)
        Positive-sequence impedance at the bus; infinite where the bus is not fed. [ohm]
    fault_ohm : array_like of complex, shape (n,)
        Impedance of the fault in each phase. [ohm]

    Returns
    -------
    ndarray, shape (n,)
        Current in each phase. [kA] Zero at a bus that is not fed, infinite without any
        impedance, NaN where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is negative, or a fault impedance is infinite or has a negative resistance.

    Notes
    -----
    I3 = E/|Z1 + Zf| with E = V_LL/sqrt(3).

    Source: IEC 60909-0, three-phase short circuit (clause recalled), with c = 1.
    """
    phase_kv, zf = line_to_neutral_kv(voltage_kv), fault_impedance(fault_ohm)
    return _current(phase_kv, np.asarray(z1_ohm, dtype=complex) + zf)


def line_to_line_ka(
    voltage_kv: ArrayLike, z1_ohm: ArrayLike, z2_ohm: ArrayLike, fault_ohm: ArrayLike = 0.0
) -> NDArray[np.float64]:
    """
    Current of a line-to-line fault clear of ground.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage before the fault. [kV]
    z1_ohm, z2_ohm : array_like of complex, shape (n,)
        Positive- and negative-sequence impedance at the bus; infinite where it is not fed. [ohm]
    fault_ohm : array_like of complex, shape (n,)
        Impedance between the two faulted phases. [ohm]

    Returns
    -------
    ndarray, shape (n,)
        Current in either faulted phase. [kA] Zero at a bus that is not fed, infinite without
        any impedance, NaN where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is negative, or a fault impedance is infinite or has a negative resistance.

    Notes
    -----
    I_LL = sqrt(3) E/|Z1 + Z2 + Zf|.

    Source: IEC 60909-0, line-to-line short circuit (clause recalled), with c = 1.
    """
    phase_kv, zf = line_to_neutral_kv(voltage_kv), fault_impedance(fault_ohm)
    z1, z2 = np.asarray(z1_ohm, dtype=complex), np.asarray(z2_ohm, dtype=complex)
    return _current(np.sqrt(3) * phase_kv, z1 + z2 + zf, np.isinf(z1) | np.isinf(z2))


def line_to_ground_ka(
    voltage_kv: ArrayLike, z1_ohm: ArrayLike, z2_ohm: ArrayLike, z0_ohm: ArrayLike, fault_ohm: ArrayLike = 0.0
) -> NDArray[np.float64]:
    """
    Current of a line-to-ground fault, that is, 3I0 at the fault.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage before the fault. [kV]
    z1_ohm, z2_ohm, z0_ohm : array_like of complex, shape (n,)
        Sequence impedances at the bus. Infinite z0_ohm: no zero-sequence path; infinite
        z1_ohm or z2_ohm: the bus is not fed. [ohm]
    fault_ohm : array_like of complex, shape (n,)
        Impedance from the faulted phase to ground. [ohm]

    Returns
    -------
    ndarray, shape (n,)
        Current to ground. [kA] Zero where an impedance is infinite, whatever else is not on
        record; infinite without any impedance; NaN where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is negative, or a fault impedance is infinite or has a negative resistance.

    Notes
    -----
    3I0 = 3E/|Z1 + Z2 + Z0 + 3Zf|. Z0 already holds 3Zn of every grounded neutral.

    Source: IEC 60909-0, line-to-ground short circuit (clause recalled), with c = 1.
    """
    phase_kv, zf = line_to_neutral_kv(voltage_kv), fault_impedance(fault_ohm)
    z1, z2, z0 = (np.asarray(z, dtype=complex) for z in (z1_ohm, z2_ohm, z0_ohm))
    return _current(3 * phase_kv, z1 + z2 + z0 + 3 * zf, np.isinf(z1) | np.isinf(z2) | np.isinf(z0))


def double_line_to_ground_ka(
    voltage_kv: ArrayLike, z1_ohm: ArrayLike, z2_ohm: ArrayLike, z0_ohm: ArrayLike, fault_ohm: ArrayLike = 0.0
) -> NDArray[np.float64]:
    """
    Current to ground of a double line-to-ground fault, that is, 3I0 at the fault.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage before the fault. [kV]
    z1_ohm, z2_ohm, z0_ohm : array_like of complex, shape (n,)
        Sequence impedances at the bus. Infinite z0_ohm: no zero-sequence path; infinite
        z1_ohm: the bus is not fed. [ohm]
    fault_ohm : array_like of complex, shape (n,)
        Impedance from the two phases, joined, to ground. [ohm]

    Returns
    -------
    ndarray, shape (n,)
        Current to ground. [kA] Zero where z1_ohm or z0_ohm is infinite, whatever else is not
        on record; infinite without any impedance; NaN where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is negative, or a fault impedance is infinite or has a negative resistance.

    Notes
    -----
    3I0 = 3E |Z2|/|Z1 Z2 + (Z1 + Z2)(Z0 + 3Zf)|; an infinite Z2 gives the limit
    3E/|Z1 + Z0 + 3Zf|.

    Source: IEC 60909-0, double line-to-ground short circuit (clause recalled), with c = 1.
    """
    phase_kv, zf = line_to_neutral_kv(voltage_kv), fault_impedance(fault_ohm)
    z1, z2, z0 = (np.asarray(z, dtype=complex) for z in (z1_ohm, z2_ohm, z0_ohm))
    no_current = np.isinf(z1) | np.isinf(z0)
    z1, to_ground = np.where(np.isinf(z1), 0, z1), np.where(np.isinf(z0), 0, z0) + 3 * zf
    finite_z2 = np.where(np.isinf(z2), 0, z2)
    with np.errstate(divide="ignore", invalid="ignore"):
        loop = np.abs(z1 * finite_z2 + (z1 + finite_z2) * to_ground) / np.abs(finite_z2)
    return _current(3 * phase_kv, np.where(np.isinf(z2), np.abs(z1 + to_ground), loop), no_current)


def _current(
    driving_kv: NDArray[np.float64], loop_ohm: NDArray[np.inexact], no_current: ArrayLike = False
) -> NDArray[np.float64]:
    with np.errstate(divide="ignore", invalid="ignore"):
        current = driving_kv / np.abs(loop_ohm)
    return np.where(no_current, 0.0, current)
