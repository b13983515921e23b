"""Voltage factor of IEC 60909-0: the equivalent source at the fault over the nominal voltage."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

LOW_VOLTAGE_KV = 1.0  # up to which a system is one of low voltage
TOLERANCES_PERCENT = (6.0, 10.0)  # of the voltage of low-voltage systems; the standard has a factor for each
ABOVE_LOW_VOLTAGE = (1.10, 1.00)  # maximum, minimum


def voltage_factor_max(nominal_kv: ArrayLike, low_voltage_tolerance: float = 10.0) -> NDArray[np.float64]:
    """
    Voltage factor c_max, for the largest short-circuit currents.

    Parameters
    ----------
    nominal_kv : array_like, shape (n,)
        Nominal line-to-line voltage of the system. [kV]
    low_voltage_tolerance : float
        By how much the voltage of low-voltage systems may lie above nominal: 6 or 10. [%]

    Returns
    -------
    ndarray, shape (n,)
        Factor. [1] NaN where the voltage is not on record.

    Raises
    ------
    ValueError
        A voltage is not positive, or the tolerance is neither 6 nor 10 %.

    Notes
    -----
    Up to 1 kV 1.05 with a tolerance of +6 % and 1.10 with +10 %; above 1 kV 1.10. c_max U_n
    should not exceed the highest voltage of equipment, which is not checked here.

    Source: IEC 60909-0:2016, table 1 (clause recalled).
    """
    return _by_voltage(nominal_kv, low_voltage_tolerance, (1.05, 1.10), ABOVE_LOW_VOLTAGE[0])


def voltage_factor_min(nominal_kv: ArrayLike, low_voltage_tolerance: float = 10.0) -> NDArray[np.float64]:
    """
    Voltage factor c_min, for the smallest short-circuit currents.

    Parameters
    ----------
    nominal_kv : array_like, shape (n,)
        Nominal line-to-line voltage of the system. [kV]
    low_voltage_tolerance : float
        By how much the voltage of low-voltage systems may differ from nominal: 6 or 10. [%]

    Returns
    -------
    ndarray, shape (n,)
        Factor. [1] NaN where the voltage is not on record.

    Raises
    ------
    ValueError
        A voltage is not positive, or the tolerance is neither 6 nor 10 %.

    Notes
    -----
    Up to 1 kV 0.95 with a tolerance of 6 % and 0.90 with 10 %; above 1 kV 1.00.

    Source: IEC 60909-0:2016, table 1 (clause recalled).
    """
    return _by_voltage(nominal_kv, low_voltage_tolerance, (0.95, 0.90), ABOVE_LOW_VOLTAGE[1])


def _by_voltage(nominal_kv: ArrayLike, tolerance: float, low: tuple[float, float], above: float) -> NDArray[np.float64]:
    kv = np.asarray(nominal_kv, dtype=float)
    if (kv <= 0).any():
        raise ValueError("nominal_kv must be positive")
    if tolerance not in TOLERANCES_PERCENT:
        raise ValueError(f"low_voltage_tolerance ({tolerance:g} %) must be 6 or 10")
    factor = np.where(kv <= LOW_VOLTAGE_KV, low[TOLERANCES_PERCENT.index(tolerance)], above)
    return np.where(np.isnan(kv), np.nan, factor)
