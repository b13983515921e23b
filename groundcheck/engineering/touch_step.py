"""Touch and step voltage that a person bears."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

BODY_CONSTANT = {50: 0.116, 70: 0.157}  # A s^0.5 by body weight in kg. IEEE Std 80-2013, 6.1 (recalled)
SHOCK_S = (0.03, 3.0)  # durations for which the limits hold. IEEE Std 80-2013, 6.1 (recalled)


def surface_layer_factor(
    soil_ohm_m: ArrayLike, surface_ohm_m: ArrayLike, thickness_m: ArrayLike
) -> NDArray[np.float64]:
    """
    Factor C_s by which thin surfacing counts for less than a deep layer of it.

    Parameters
    ----------
    soil_ohm_m, surface_ohm_m : array_like, shape (n,)
        Resistivity of the soil beneath, and of the surfacing. [ohm m]
    thickness_m : array_like, shape (n,)
        Thickness of the surfacing. [m]

    Returns
    -------
    ndarray, shape (n,)
        C_s; 1 where soil and surfacing are alike. [1] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A resistivity of the surfacing is not positive, or another input is negative.

    Notes
    -----
    C_s = 1 - 0.09(1 - rho/rho_s)/(2 h_s + 0.09).

    Source: IEEE Std 80-2013, 7.4 (clause recalled).
    """
    soil, surface = np.asarray(soil_ohm_m, dtype=float), np.asarray(surface_ohm_m, dtype=float)
    thickness = np.asarray(thickness_m, dtype=float)
    if (soil < 0).any() or (thickness < 0).any() or (surface <= 0).any():
        raise ValueError("soil_ohm_m and thickness_m must not be negative and surface_ohm_m must be positive")
    return np.asarray(1 - 0.09 * (1 - soil / surface) / (2 * thickness + 0.09), dtype=np.float64)


def tolerable_voltage_v(
    footing_ohm_m: ArrayLike, duration_s: ArrayLike, body_kg: int, *, touch: bool
) -> NDArray[np.float64]:
    """
    Largest touch or step voltage that a person bears.

    Parameters
    ----------
    footing_ohm_m : array_like, shape (n,)
        C_s rho_s; on bare ground the resistivity of the soil. [ohm m]
    duration_s : array_like, shape (n,)
        Duration of the shock. [s]
    body_kg : int
        Weight of the person: 50 or 70. [kg]
    touch : bool
        From hand to both feet, else from foot to foot. [1]

    Returns
    -------
    ndarray, shape (n,)
        Voltage. [V] NaN where an input is not on record. Computed outside 0.03 s to 3 s too,
        where the source does not go.

    Raises
    ------
    ValueError
        No such body weight, a resistivity is negative, or a duration is not positive.

    Notes
    -----
    (1000 + 1.5 C_s rho_s) k/sqrt(t) for touch, (1000 + 6 C_s rho_s) k/sqrt(t) for step;
    k = 0.116 for 50 kg and 0.157 for 70 kg. The body counts as 1000 ohm.

    Source: IEEE Std 80-2013, 8.3 and 8.4 (clauses recalled).
    """
    footing, duration = np.asarray(footing_ohm_m, dtype=float), np.asarray(duration_s, dtype=float)
    if body_kg not in BODY_CONSTANT:
        raise ValueError(f"body_kg ({body_kg}) must be 50 or 70")
    if (footing < 0).any() or (duration <= 0).any():
        raise ValueError("footing_ohm_m must not be negative and duration_s must be positive")
    feet = 1.5 if touch else 6.0
    return np.asarray((1000 + feet * footing) * BODY_CONSTANT[body_kg] / np.sqrt(duration), dtype=np.float64)
