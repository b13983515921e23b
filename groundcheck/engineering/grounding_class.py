"""Grounding class of a galvanic zone."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

EFFECTIVE_COG = 0.8  # IEEE Std C62.92.1 (recalled)


def is_effective(cog: ArrayLike, limit: float = EFFECTIVE_COG) -> NDArray[np.object_]:
    """
    Whether a coefficient of grounding is that of an effectively grounded system.

    Parameters
    ----------
    cog : array_like, shape (n,)
        Coefficient of grounding, the largest in the zone. [1]
    limit : float
        Largest that is effective. [1]

    Returns
    -------
    ndarray of object, shape (n,)
        True, False, or None where cog is NaN, that is, not on record.

    Raises
    ------
    ValueError
        limit is not positive.

    Notes
    -----
    Judged by COG itself. X0/X1 <= 3 with R0/X1 <= 1 is sufficient for it, not necessary.

    Source: IEEE Std C62.92.1, effectively grounded (recalled): COG of 0.8 or less.
    """
    if not limit > 0:
        raise ValueError(f"limit ({limit:g}) must be positive")
    ratio = np.asarray(cog, dtype=float)
    answer = np.asarray(ratio <= limit).astype(object)
    answer[np.isnan(ratio)] = None
    return answer


def classify_zone(
    cog_max: ArrayLike,
    has_solid: ArrayLike,
    has_reactor: ArrayLike,
    has_resistor: ArrayLike,
    has_coil: ArrayLike,
    resistive_current_a: ArrayLike,
    high_resistance_limit_a: ArrayLike,
    source_known: ArrayLike,
    cog_limit: float = EFFECTIVE_COG,
) -> NDArray[np.object_]:
    """
    Grounding class of each zone, from what grounds it and how far its healthy phases rise.

    Parameters
    ----------
    cog_max : array_like, shape (n,)
        Largest coefficient of grounding in the zone; NaN where not computed. [1]
    has_solid, has_reactor, has_resistor, has_coil : array_like of bool, shape (n,)
        Whether a ground source of the zone is grounded solidly, through a reactor, a
        resistor, an arc-suppression coil.
    resistive_current_a : array_like, shape (n,)
        What the resistors of the zone pass together in a ground fault; NaN where not known. [A]
    high_resistance_limit_a : array_like, shape (n,)
        Largest current that is still high-resistance grounding. [A]
    source_known : array_like of bool, shape (n,)
        Whether it is on record what grounds the zone.
    cog_limit : float
        Largest coefficient of grounding that is effective. [1]

    Returns
    -------
    ndarray of object, shape (n,)
        One of the names below, or None where source_known is False.

    Raises
    ------
    ValueError
        cog_limit is not positive, or a current is negative.

    Notes
    -----
    The first that fits:

    1. None: what grounds the zone is not on record.
    2. 'ungrounded': no ground source.
    3. 'effective': COG within the limit, and a solid link, reactor or resistor. (A COG that
       low without one of them comes from capacitance or an accident, not from grounding.)
    4. 'solid_not_effective', or 'solid' where COG is not known: a solid link.
    5. 'reactance': a reactor.
    6. 'high_resistance', 'low_resistance', or 'resistance' where the current is not known: a resistor.
    7. 'resonant': a coil and nothing else; with anything else the coil does not decide.

    Source: IEEE Std C62.92.1, classes of system grounding (recalled); the order is derived.
    """
    if not cog_limit > 0:
        raise ValueError(f"cog_limit ({cog_limit:g}) must be positive")
    current, ceiling = np.asarray(resistive_current_a, dtype=float), np.asarray(high_resistance_limit_a, dtype=float)
    if (current < 0).any() or (ceiling < 0).any():
        raise ValueError("resistive_current_a and high_resistance_limit_a must not be negative")
    cog = np.asarray(cog_max, dtype=float)
    solid, reactor, resistor, coil, known = (
        np.asarray(flag, dtype=bool) for flag in (has_solid, has_reactor, has_resistor, has_coil, source_known)
    )
    decided_by_impedance = solid | reactor | resistor
    choices: list[tuple[NDArray[np.bool_], str | None]] = [
        (~known, None),
        (~(decided_by_impedance | coil), "ungrounded"),
        (decided_by_impedance & (cog <= cog_limit), "effective"),
        (solid & np.isnan(cog), "solid"),
        (solid, "solid_not_effective"),
        (reactor, "reactance"),
        (resistor & (current <= ceiling), "high_resistance"),
        (resistor & (current > ceiling), "low_resistance"),
        (resistor, "resistance"),
        (coil, "resonant"),
    ]
    shape = np.broadcast_shapes(cog.shape, current.shape, ceiling.shape, coil.shape, *(c.shape for c, _ in choices))
    classes = np.full(shape, None, dtype=object)
    for condition, name in reversed(choices):
        classes[np.broadcast_to(condition, shape)] = name
    return classes
