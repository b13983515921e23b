"""Voltages to ground at a bus while a line-to-ground fault is on, from its sequence impedances."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from groundcheck.engineering.driving import fault_impedance, line_to_neutral_kv

ROTATION = complex(-0.5, np.sqrt(0.75))  # the operator a
HEALTHY_PHASE_CEILING = (3 + np.sqrt(21)) / 4  # times V_LN: |a^2 - 1/4| + 3/4, see healthy_phase_bounds_kv


def phase_voltages_kv(
    voltage_kv: ArrayLike, z1_ohm: ArrayLike, z2_ohm: ArrayLike, z0_ohm: ArrayLike, fault_ohm: ArrayLike = 0.0
) -> NDArray[np.float64]:
    """
    Voltages to ground of the three phases while a line-to-ground fault is on.

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
    ndarray, shape (n, 3)
        Magnitudes at the fault: the faulted phase, the one that lags it, the one that leads
        it. [kV] NaN where the bus is not fed, where all impedances are zero, and where an
        input is not on record.

    Raises
    ------
    ValueError
        A voltage is negative, or a fault impedance is infinite or has a negative resistance.

    Notes
    -----
    V0 = -I0 Z0, V1 = E - I0 Z1, V2 = -I0 Z2 and V_abc = A V_012, without the usual Z1 = Z2.
    Which of the two healthy phases is the higher depends on R0: more resistance raises the
    leading one. With no path the fault's own impedance carries nothing, and the faulted phase is at ground.

    Source: Glover, Sarma, Overbye, Power System Analysis and Design, chapter on unsymmetrical faults (recalled).
    """
    magnitudes: NDArray[np.float64] = np.abs(phase_phasors_kv(voltage_kv, z1_ohm, z2_ohm, z0_ohm, fault_ohm))
    return magnitudes


def phase_phasors_kv(
    voltage_kv: ArrayLike, z1_ohm: ArrayLike, z2_ohm: ArrayLike, z0_ohm: ArrayLike, fault_ohm: ArrayLike = 0.0
) -> NDArray[np.complex128]:
    """
    Phasors of the voltages of phase_voltages_kv.

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
    ndarray of complex, shape (n, 3)
        Voltages to ground at the fault: the faulted phase, the one that lags it, the one that
        leads it; the voltage of the faulted phase before the fault is real and positive. [kV]
        NaN where phase_voltages_kv is.

    Raises
    ------
    ValueError
        A voltage is negative, or a fault impedance is infinite or has a negative resistance.

    Notes
    -----
    Their mean is V0, so that neutral_shift_kv is the magnitude of the mean.

    Source: as phase_voltages_kv.
    """
    phase_kv = line_to_neutral_kv(voltage_kv)
    v0, v1, v2 = _sequence_voltages(z1_ohm, z2_ohm, z0_ohm, fault_ohm)
    a = ROTATION
    phases = np.stack([v0 + v1 + v2, v0 + a * a * v1 + a * v2, v0 + a * v1 + a * a * v2], axis=-1)
    phasors: NDArray[np.complex128] = phase_kv[..., None] * phases
    return phasors


def healthy_phase_kv(
    voltage_kv: ArrayLike, z1_ohm: ArrayLike, z2_ohm: ArrayLike, z0_ohm: ArrayLike, fault_ohm: ArrayLike = 0.0
) -> NDArray[np.float64]:
    """
    Voltage to ground of the worse healthy phase while a line-to-ground fault is on.

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
        The larger of the two voltages, at the fault. [kV] Line-to-line voltage without a
        zero-sequence path, whatever the other impedances; NaN where the bus is not fed, where
        all impedances are zero, and where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is negative, or a fault impedance is infinite or has a negative resistance.

    Notes
    -----
    V0 = -I0 Z0, V1 = E - I0 Z1, V2 = -I0 Z2 and V_abc = A V_012, without the usual Z1 = Z2.
    Steady state at power frequency: the transient before it is higher. Square root of
    three is not an upper bound, see healthy_phase_bounds_kv.

    Source: Glover, Sarma, Overbye, Power System Analysis and Design, chapter on unsymmetrical faults (recalled).
    """
    higher: NDArray[np.float64] = phase_voltages_kv(voltage_kv, z1_ohm, z2_ohm, z0_ohm, fault_ohm)[..., 1:].max(axis=-1)
    return higher


def neutral_shift_kv(
    voltage_kv: ArrayLike, z1_ohm: ArrayLike, z2_ohm: ArrayLike, z0_ohm: ArrayLike, fault_ohm: ArrayLike = 0.0
) -> NDArray[np.float64]:
    """
    Zero-sequence voltage at a line-to-ground fault.

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
        Magnitude of V0. [kV] Line-to-neutral voltage without a zero-sequence path, whatever
        the other impedances; NaN where the bus is not fed, where all impedances are zero, and
        where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is negative, or a fault impedance is infinite or has a negative resistance.

    Notes
    -----
    |V0| = I0 |Z0|. It is the shift of the system at the fault; the voltage of one source's
    neutral is 3 times the I0 of that neutral times its Zn.

    Source: Glover, Sarma, Overbye, Power System Analysis and Design, chapter on unsymmetrical faults (recalled).
    """
    phase_kv = line_to_neutral_kv(voltage_kv)
    v0, _, _ = _sequence_voltages(z1_ohm, z2_ohm, z0_ohm, fault_ohm)
    return phase_kv * np.abs(v0)


def coefficient_of_grounding(healthy_phase_kv: ArrayLike, voltage_kv: ArrayLike) -> NDArray[np.float64]:
    """
    Coefficient of grounding, COG.

    Parameters
    ----------
    healthy_phase_kv : array_like, shape (n,)
        Voltage to ground of the worse healthy phase in a line-to-ground fault. [kV]
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage before the fault. [kV]

    Returns
    -------
    ndarray, shape (n,)
        COG, a ratio. [1] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A healthy-phase voltage is negative, or a line-to-line voltage is not positive.

    Notes
    -----
    The ground fault factor of the IEC is sqrt(3) times this.

    Source: IEEE Std C62.92.1, definition (recalled).
    """
    healthy, voltage = np.asarray(healthy_phase_kv, dtype=float), np.asarray(voltage_kv, dtype=float)
    if (healthy < 0).any() or (voltage <= 0).any():
        raise ValueError("healthy_phase_kv must not be negative and voltage_kv must be positive")
    cog: NDArray[np.float64] = healthy / voltage
    return cog


def healthy_phase_bounds_kv(voltage_kv: ArrayLike) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """
    Bounds of the worse healthy-phase voltage when nothing but the system voltage is known.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage before the fault. [kV]

    Returns
    -------
    low, high : ndarray, shape (n,)
        No line-to-ground fault gives less than low or more than high. [kV] NaN where the
        voltage is not on record.

    Raises
    ------
    ValueError
        A voltage is negative.

    Notes
    -----
    low = V_LL/2: the healthy phases stay V_LL apart, so one of them is at least half of it
    from ground. It holds for any Z0, as long as Z1 = Z2.

    high = V_LN (3 + sqrt(21))/4 = 1.8956 V_LN: with k = (Z1 - Z0)/(2 Z1 + Z0) the voltages are
    E(a^2 + k) and E(a + k), and k lies in the circle of radius 3/4 about -1/4. It holds as
    long as Z1 = Z2 and R0, X0, R1, X1 are not negative; with negative X0, that is, where
    capacitance outweighs inductance, as long as |Z0| is at least 21 times |Z1| (40 times if
    the fault has resistance). It does NOT hold between: near X0/X1 = -2 there is no bound.

    Source: derived; with fault resistance found by a search over all angles and ratios.
    """
    phase_kv = line_to_neutral_kv(voltage_kv)
    return phase_kv * np.sqrt(0.75), phase_kv * HEALTHY_PHASE_CEILING


def _sequence_voltages(
    z1_ohm: ArrayLike, z2_ohm: ArrayLike, z0_ohm: ArrayLike, fault_ohm: ArrayLike
) -> tuple[NDArray[np.complex128], NDArray[np.complex128], NDArray[np.complex128]]:
    """V0, V1, V2 at the faulted bus for E = 1."""
    zf = fault_impedance(fault_ohm)
    z1, z2, z0 = (np.asarray(z, dtype=complex) for z in (z1_ohm, z2_ohm, z0_ohm))
    not_fed, no_path = np.isinf(z1) | np.isinf(z2), np.isinf(z0)
    z1, z2, z0 = np.where(not_fed, np.nan, z1), np.where(not_fed, np.nan, z2), np.where(no_path, 0, z0)
    with np.errstate(divide="ignore", invalid="ignore"):
        i0 = 1 / (z1 + z2 + z0 + 3 * zf)
        v0, v1, v2 = -i0 * z0, 1 - i0 * z1, -i0 * z2
    # Without a path: I0 = 0, the faulted phase is at ground, and the system shifts by E.
    floating = no_path & ~not_fed
    return np.where(floating, -1, v0), np.where(floating, 1, v1), np.where(floating, 0, v2)
