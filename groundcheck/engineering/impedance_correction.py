"""Impedance correction factors of IEC 60909-0 for transformers, generators and power station units."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def transformer_correction(x_pu: ArrayLike, voltage_factor: ArrayLike) -> NDArray[np.float64]:
    """
    Correction factor K_T of a network transformer, or of one pair of windings of one with three.

    Parameters
    ----------
    x_pu : array_like, shape (n,)
        Reactance between the two windings on the rated power of the pair. [pu]
    voltage_factor : array_like, shape (n,)
        c_max of the system at the lower-voltage side. [1]

    Returns
    -------
    ndarray, shape (n,)
        Factor on the impedance of the pair, in all sequences. [1] NaN where an input is not
        on record.

    Raises
    ------
    ValueError
        A reactance is negative, or a voltage factor is not positive.

    Notes
    -----
    K_T = 0.95 c_max/(1 + 0.6 x_T); of three windings K_TAB, K_TAC, K_TBC alike, each from the
    reactance of its own pair, before the pairs are turned into a star. For the largest
    currents only. An impedance in a neutral, 3 Z_n, is not corrected.

    A zero-sequence impedance takes the factor of the pair between which it is measured. With
    one grounded star and a delta that is the pair of these two, K_TAC or K_TBC, whatever the
    third winding is: only so do the line-to-ground currents of IEC TR 60909-4, clause 6, come
    out; with K_TAB that of bus 2 there is 2.5 % high.

    Source: IEC 60909-0:2016, network transformers with two and three windings (clauses recalled).
    """
    x, c = np.asarray(x_pu, dtype=float), np.asarray(voltage_factor, dtype=float)
    if (x < 0).any():
        raise ValueError("x_pu must not be negative")
    _check_factor(c)
    factor: NDArray[np.float64] = 0.95 * c / (1 + 0.6 * x)
    return factor


def generator_correction(
    nominal_kv: ArrayLike, rated_kv: ArrayLike, x_pu: ArrayLike, power_factor: ArrayLike, voltage_factor: ArrayLike
) -> NDArray[np.float64]:
    """
    Correction factor K_G of a generator that is connected to its system without a unit transformer.

    Parameters
    ----------
    nominal_kv : array_like, shape (n,)
        Nominal line-to-line voltage of the system. [kV]
    rated_kv : array_like, shape (n,)
        Rated line-to-line voltage of the machine. [kV]
    x_pu : array_like, shape (n,)
        Saturated subtransient reactance on the machine's own rating. [pu]
    power_factor : array_like, shape (n,)
        Rated power factor, 0 to 1. [1]
    voltage_factor : array_like, shape (n,)
        c_max of the system. [1]

    Returns
    -------
    ndarray, shape (n,)
        Factor on the impedance of the machine, in all sequences. [1] NaN where an input is
        not on record.

    Raises
    ------
    ValueError
        A voltage or voltage factor is not positive, a reactance is negative, or a power
        factor is not within 0 to 1.

    Notes
    -----
    K_G = U_n/U_rG c_max/(1 + x''_d sin(phi_rG)). For the largest currents only.

    Source: IEC 60909-0:2016, synchronous generators and motors (clause recalled).
    """
    nominal, rated, x, c = (np.asarray(v, dtype=float) for v in (nominal_kv, rated_kv, x_pu, voltage_factor))
    _check_machine(x, nominal, rated)
    _check_factor(c)
    factor: NDArray[np.float64] = nominal / rated * c / (1 + x * _sine(power_factor))
    return factor


def unit_correction(
    nominal_kv: ArrayLike,
    rated_kv: ArrayLike,
    turns_ratio: ArrayLike,
    x_pu: ArrayLike,
    transformer_x_pu: ArrayLike,
    power_factor: ArrayLike,
    voltage_factor: ArrayLike,
) -> NDArray[np.float64]:
    """
    Correction factor K_S of a power station unit whose transformer has an on-load tap changer.

    Parameters
    ----------
    nominal_kv : array_like, shape (n,)
        Nominal line-to-line voltage of the system at the unit transformer's HV side. [kV]
    rated_kv : array_like, shape (n,)
        Rated line-to-line voltage of the machine. [kV]
    turns_ratio : array_like, shape (n,)
        Rated HV over rated LV voltage of the unit transformer. [1]
    x_pu, transformer_x_pu : array_like, shape (n,)
        Saturated subtransient reactance of the machine, and reactance of the transformer,
        each on its own rating. [pu]
    power_factor : array_like, shape (n,)
        Rated power factor of the machine, 0 to 1. [1]
    voltage_factor : array_like, shape (n,)
        c_max of the system at the HV side. [1]

    Returns
    -------
    ndarray, shape (n,)
        Factor on the impedances of both machine and transformer, in all sequences, for
        faults outside the unit. [1] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A voltage, ratio or voltage factor is not positive, a reactance is negative, or a
        power factor is not within 0 to 1.

    Notes
    -----
    K_S = (U_nQ/U_rG)^2 (U_rTLV/U_rTHV)^2 c_max/(1 + |x''_d - x_T| sin(phi_rG)). For the
    largest currents only. Faults between machine and transformer have factors of their own.

    Source: IEC 60909-0:2016, power station units with on-load tap changer (clause recalled).
    """
    nominal, rated, x, c = (np.asarray(v, dtype=float) for v in (nominal_kv, rated_kv, x_pu, voltage_factor))
    ratio, x_t = np.asarray(turns_ratio, dtype=float), np.asarray(transformer_x_pu, dtype=float)
    _check_machine(x, nominal, rated, ratio)
    _check_factor(c)
    if (x_t < 0).any():
        raise ValueError("transformer_x_pu must not be negative")
    factor: NDArray[np.float64] = (nominal / rated / ratio) ** 2 * c / (1 + np.abs(x - x_t) * _sine(power_factor))
    return factor


def unit_correction_fixed_tap(
    nominal_kv: ArrayLike,
    rated_kv: ArrayLike,
    turns_ratio: ArrayLike,
    x_pu: ArrayLike,
    power_factor: ArrayLike,
    voltage_range: ArrayLike,
    voltage_factor: ArrayLike,
) -> NDArray[np.float64]:
    """
    Correction factor K_SO of a power station unit whose transformer has no on-load tap changer.

    Parameters
    ----------
    nominal_kv : array_like, shape (n,)
        Nominal line-to-line voltage of the system at the unit transformer's HV side. [kV]
    rated_kv : array_like, shape (n,)
        Rated line-to-line voltage of the machine. [kV]
    turns_ratio : array_like, shape (n,)
        Rated HV over rated LV voltage of the unit transformer. [1]
    x_pu : array_like, shape (n,)
        Saturated subtransient reactance on the machine's own rating. [pu]
    power_factor : array_like, shape (n,)
        Rated power factor of the machine, 0 to 1. [1]
    voltage_range : array_like, shape (n,)
        p_G, by how much the machine's voltage may be regulated above the rated. [pu]
    voltage_factor : array_like, shape (n,)
        c_max of the system at the HV side. [1]

    Returns
    -------
    ndarray, shape (n,)
        Factor on the impedances of both machine and transformer, in all sequences, for
        faults outside the unit. [1] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A voltage, ratio or voltage factor is not positive, a reactance or voltage range is
        negative, or a power factor is not within 0 to 1.

    Notes
    -----
    K_SO = U_nQ/(U_rG (1 + p_G)) U_rTLV/U_rTHV c_max/(1 + x''_d sin(phi_rG)). The factor
    1 +- p_T for a transformer that stays at another than its main tap is left at 1. For the
    largest currents only. Faults between machine and transformer have factors of their own.

    Source: IEC 60909-0:2016, power station units without on-load tap changer (clause recalled).
    """
    nominal, rated, x, c = (np.asarray(v, dtype=float) for v in (nominal_kv, rated_kv, x_pu, voltage_factor))
    ratio, p = np.asarray(turns_ratio, dtype=float), np.asarray(voltage_range, dtype=float)
    _check_machine(x, nominal, rated, ratio)
    _check_factor(c)
    if (p < 0).any():
        raise ValueError("voltage_range must not be negative")
    factor: NDArray[np.float64] = nominal / (rated * (1 + p)) / ratio * c / (1 + x * _sine(power_factor))
    return factor


def _sine(power_factor: ArrayLike) -> NDArray[np.float64]:
    cosine = np.asarray(power_factor, dtype=float)
    if (cosine < 0).any() or (cosine > 1).any():
        raise ValueError("power_factor must be within 0 to 1")
    sine: NDArray[np.float64] = np.sqrt(1 - cosine**2)
    return sine


def _check_factor(voltage_factor: NDArray[np.float64]) -> None:
    if (voltage_factor <= 0).any():
        raise ValueError("voltage_factor must be positive")


def _check_machine(x_pu: NDArray[np.float64], *positive: NDArray[np.float64]) -> None:
    if (x_pu < 0).any():
        raise ValueError("x_pu must not be negative")
    if any((values <= 0).any() for values in positive):
        raise ValueError("voltages and turns_ratio must be positive")
