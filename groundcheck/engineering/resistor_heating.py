"""Heat in a neutral resistor: energy, permitted temperature rise, time to the rated heat, current when hot."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

# Rated time up to which a class of IEEE C57.32 applies, and its temperature rise. [s], [K]
RISE_CLASSES = ((60.0, 760.0), (600.0, 610.0), (np.inf, 610.0))
CONTINUOUS_RISE_K = 385.0


def resistor_energy_kj(current_a: ArrayLike, resistance_ohm: ArrayLike, duration_s: ArrayLike) -> NDArray[np.float64]:
    """
    Energy that a current turns into heat in a resistor.

    Parameters
    ----------
    current_a : array_like, shape (n,)
        Current through it. [A]
    resistance_ohm : array_like, shape (n,)
        Its resistance; infinite passes nothing. [ohm]
    duration_s : array_like, shape (n,)
        For how long; infinite is without limit. [s]

    Returns
    -------
    ndarray, shape (n,)
        Energy. [kJ] Zero where no current flows, however long; NaN where an input is not on
        record.

    Raises
    ------
    ValueError
        An argument is negative.

    Notes
    -----
    E = I^2 R t. The resistance is taken as constant, which overstates the energy of a given
    voltage and understates that of a given current.

    Source: IEEE Std C57.32, definitions (recalled).
    """
    current, resistance = np.asarray(current_a, dtype=float), np.asarray(resistance_ohm, dtype=float)
    duration = np.asarray(duration_s, dtype=float)
    if (current < 0).any() or (resistance < 0).any() or (duration < 0).any():
        raise ValueError("current_a, resistance_ohm and duration_s must not be negative")
    unknown = np.isnan(current) | np.isnan(resistance) | np.isnan(duration)
    with np.errstate(invalid="ignore", over="ignore"):
        energy = current**2 * resistance * duration / 1000
    idle = (current == 0) | (resistance == 0) | (duration == 0)
    return np.where(idle & ~unknown, 0.0, energy)


def rated_energy_kj(voltage_kv: ArrayLike, current_a: ArrayLike, time_s: ArrayLike) -> NDArray[np.float64]:
    """
    Energy that a resistor's nameplate says it may take in its rated time.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        The device's own rated voltage, which is line-to-neutral. [kV]
    current_a : array_like, shape (n,)
        Rated current. [A]
    time_s : array_like, shape (n,)
        Rated time; infinite is continuous. [s]

    Returns
    -------
    ndarray, shape (n,)
        Energy. [kJ] NaN where an input is not on record.

    Raises
    ------
    ValueError
        An argument is not positive.

    Notes
    -----
    E = V I t.

    Source: IEEE Std C57.32, rated voltage, current and time (recalled).
    """
    voltage, current = np.asarray(voltage_kv, dtype=float), np.asarray(current_a, dtype=float)
    time = np.asarray(time_s, dtype=float)
    if (voltage <= 0).any() or (current <= 0).any() or (time <= 0).any():
        raise ValueError("voltage_kv, current_a and time_s must be positive")
    energy: NDArray[np.float64] = voltage * current * time
    return energy


def temperature_rise_limit_k(rated_time_s: ArrayLike) -> NDArray[np.float64]:
    """
    Temperature rise that the element of a resistor of a rated time is permitted.

    Parameters
    ----------
    rated_time_s : array_like, shape (n,)
        Rated time; infinite is continuous. [s]

    Returns
    -------
    ndarray, shape (n,)
        Rise above ambient. [K] NaN where the rated time is not on record.

    Raises
    ------
    ValueError
        A rated time is not positive.

    Notes
    -----
    760 K to 1 min, 610 K to 10 min and for extended time, 385 K continuous. A rated time
    between two standard times belongs to the longer one.

    Source: IEEE Std 32-1972, temperature limits, as quoted by a maker of resistors; the value for 10 min is recalled.
    """
    time = np.asarray(rated_time_s, dtype=float)
    if (time <= 0).any():
        raise ValueError("rated_time_s must be positive")
    limits = [np.isnan(time), np.isposinf(time), *(time <= upto for upto, _ in RISE_CLASSES)]
    rises = [np.nan, CONTINUOUS_RISE_K, *(rise for _, rise in RISE_CLASSES)]
    return np.select(limits, rises)


def adiabatic_time_s(rated_current_a: ArrayLike, rated_time_s: ArrayLike, current_a: ArrayLike) -> NDArray[np.float64]:
    """
    Time in which another current puts the rated heat into a device.

    Parameters
    ----------
    rated_current_a : array_like, shape (n,)
        Rated current. [A]
    rated_time_s : array_like, shape (n,)
        Rated time; infinite is continuous. [s]
    current_a : array_like, shape (n,)
        The other current. [A]

    Returns
    -------
    ndarray, shape (n,)
        Time. [s] Infinite where no current flows. For a continuous rating infinite up to the
        rated current and NaN above it, since no energy is rated. NaN where an input is not on
        record.

    Raises
    ------
    ValueError
        A rated value is not positive, or current_a is negative.

    Notes
    -----
    t = t_r (I_r/I)^2, heat exchange left out. Below the rated current the true time is longer.
    Above it, it is shorter than this where the rating itself counts on cooling: hold it for a
    rated time of 1 min or less.

    Source: derived from E = I^2 R t.
    """
    rated, time = np.asarray(rated_current_a, dtype=float), np.asarray(rated_time_s, dtype=float)
    current = np.asarray(current_a, dtype=float)
    if (rated <= 0).any() or (time <= 0).any() or (current < 0).any():
        raise ValueError("rated_current_a and rated_time_s must be positive and current_a must not be negative")
    with np.errstate(divide="ignore", invalid="ignore"):
        borne = time * (rated / current) ** 2
    return np.where(np.isposinf(time) & (current > rated), np.nan, borne)


def hot_resistor_current_a(
    voltage_kv: ArrayLike, resistance_ohm: ArrayLike, resistance_rise: ArrayLike
) -> NDArray[np.float64]:
    """
    Current that a resistor still passes when heat has raised its resistance.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage of the zone. [kV]
    resistance_ohm : array_like, shape (n,)
        Resistance when cold. [ohm]
    resistance_rise : array_like, shape (n,)
        Increase over the cold resistance: 0.2 is 20 % more. [1]

    Returns
    -------
    ndarray, shape (n,)
        Current. [A] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A voltage or rise is negative, or a resistance is not positive.

    Notes
    -----
    I = V_LN/(R (1 + rise)), source impedance left out.

    Source: derived from Ohm's law.
    """
    voltage, resistance = np.asarray(voltage_kv, dtype=float), np.asarray(resistance_ohm, dtype=float)
    rise = np.asarray(resistance_rise, dtype=float)
    if (voltage < 0).any() or (rise < 0).any() or (resistance <= 0).any():
        raise ValueError("voltage_kv and resistance_rise must not be negative and resistance_ohm must be positive")
    current: NDArray[np.float64] = voltage * 1000 / np.sqrt(3) / (resistance * (1 + rise))
    return current
