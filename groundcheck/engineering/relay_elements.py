"""Operating time of an overcurrent element with all its stages: inverse or definite time, and an instantaneous one."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from groundcheck.engineering.relay_curves import operating_time_s

DEFINITE = "definite_time"
# Reset constant t_r of the IEEE curves. Source: IEEE Std C37.112 (recalled).
RESET: dict[str, float] = {
    "ieee_moderately_inverse": 4.85,
    "ieee_very_inverse": 21.6,
    "ieee_extremely_inverse": 29.1,
}


@dataclass(frozen=True)
class Element:
    """
    Settings of overcurrent elements, each an array of shape (n,) or one value for all.

    pickup_a, curve, time_dial, definite_s : the timed stage; curve is one of CURVES, with its time dial, or
        'definite_time' with definite_s. None is not on record. [A], [1], [s]
    instantaneous_a, instantaneous_s : the instantaneous stage; infinite where there is none. [A], [s]
    """

    pickup_a: ArrayLike
    curve: ArrayLike
    time_dial: ArrayLike = np.nan
    definite_s: ArrayLike = np.nan
    instantaneous_a: ArrayLike = np.inf
    instantaneous_s: ArrayLike = 0.0


def definite_operating_time_s(multiple: ArrayLike, delay_s: ArrayLike) -> NDArray[np.float64]:
    """
    Operating time of a definite-time or an instantaneous element.

    Parameters
    ----------
    multiple : array_like, shape (n,)
        Current over pickup. [1]
    delay_s : array_like, shape (n,)
        Set time; that of the element itself where it is instantaneous. [s]

    Returns
    -------
    ndarray, shape (n,)
        Time from inception to trip output, breaker not included. [s] Infinite at or below
        pickup; NaN where an input that matters is not on record.

    Raises
    ------
    ValueError
        A multiple or a delay is negative.

    Notes
    -----
    t = delay for M > 1.

    Source: IEC 60255-151, dependent and independent time characteristics (recalled).
    """
    m, delay = np.asarray(multiple, dtype=float), np.asarray(delay_s, dtype=float)
    if (m < 0).any() or (delay < 0).any():
        raise ValueError("multiple and delay_s must not be negative")
    return np.where(m > 1, delay, np.where(np.isnan(m), np.nan, np.inf))


def element_time_s(current_a: ArrayLike, element: Element) -> NDArray[np.float64]:
    """
    Operating time of an element: that of the stage that operates first.

    Parameters
    ----------
    current_a : array_like, shape (n,)
        Primary current. [A]
    element : Element
        Settings in primary amperes and seconds. [A], [s]

    Returns
    -------
    ndarray, shape (n,)
        Time from inception to trip output, breaker not included. [s] Infinite where no stage
        picks up; NaN where an input that matters is not on record.

    Raises
    ------
    ValueError
        A curve is unknown, a current or setting is negative, or a pickup is not positive.

    Notes
    -----
    The least of the timed stage and the instantaneous stage. The timed stage is inverse
    or definite, never both.

    Source: IEC 60255-151 and IEEE Std C37.112 (both recalled).
    """
    current, pickup = np.asarray(current_a, dtype=float), np.asarray(element.pickup_a, dtype=float)
    highset = np.asarray(element.instantaneous_a, dtype=float)
    if (pickup <= 0).any() or (highset <= 0).any():
        raise ValueError("pickup_a and instantaneous_a must be positive")
    curve = np.asarray(element.curve, dtype=object)
    definite = np.asarray(curve == DEFINITE, dtype=bool)
    with np.errstate(invalid="ignore"):
        multiple, high_multiple = current / pickup, current / highset
    timed = np.where(
        definite,
        definite_operating_time_s(multiple, element.definite_s),
        operating_time_s(multiple, _named(curve, definite), element.time_dial),
    )
    fast = definite_operating_time_s(
        np.where(np.isinf(highset), np.where(np.isnan(current), np.nan, 0), high_multiple), element.instantaneous_s
    )
    return np.minimum(timed, fast)


def _named(curve: NDArray[np.object_], definite: NDArray[np.bool_]) -> NDArray[np.object_]:
    """The inverse curves; nothing where the time is definite."""
    names = curve.copy()
    names[definite] = None
    return names


def reset_time_s(multiple: ArrayLike, curve: ArrayLike, time_dial: ArrayLike) -> NDArray[np.float64]:
    """
    Time in which an induction-disk element, or one that imitates it, returns from the point of tripping.

    Parameters
    ----------
    multiple : array_like, shape (n,)
        Current over pickup after the fault. [1]
    curve : array_like of str, shape (n,)
        Name of an IEEE curve; None is not on record.
    time_dial : array_like, shape (n,)
        Time dial. [1]

    Returns
    -------
    ndarray, shape (n,)
        Time to full reset. [s] Infinite at or above pickup; NaN for a curve without a reset
        constant of its own, and where an input is not on record.

    Raises
    ------
    ValueError
        A multiple or time dial is negative.

    Notes
    -----
    t = TD t_r/(1 - M^2). A second fault within this time is cleared sooner than the curve
    says, which coordination on the operating curves alone does not show.

    Source: IEEE Std C37.112, reset characteristic (recalled).
    """
    m, dial = np.asarray(multiple, dtype=float), np.asarray(time_dial, dtype=float)
    if (m < 0).any() or (dial < 0).any():
        raise ValueError("multiple and time_dial must not be negative")
    names = np.asarray(curve, dtype=object)
    constant = np.array([RESET.get(name, np.nan) for name in names.ravel().tolist()]).reshape(names.shape)
    with np.errstate(divide="ignore", invalid="ignore"):
        seconds = dial * constant / (1 - m**2)
    return np.where((m >= 1) & ~np.isnan(constant), np.inf, seconds)
