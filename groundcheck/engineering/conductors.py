"""Materials of grounding conductors, and how hot conductor and joint may become."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

# Temperature coefficient of resistance at 20 degC [1/degC]; its reciprocal at 0 degC [degC]; fusing temperature [degC];
# resistivity at 20 degC [uohm cm]; thermal capacity [J/(cm3 degC)]. IEEE Std 80-2013, table 1 (recalled).
MATERIALS: dict[str, tuple[float, float, float, float, float]] = {
    "copper_annealed": (0.00393, 234, 1083, 1.72, 3.42),
    "copper_hard_drawn": (0.00381, 242, 1084, 1.78, 3.42),
    "copper_clad_steel_40": (0.00378, 245, 1084, 4.40, 3.85),
    "copper_clad_steel_30": (0.00378, 245, 1084, 5.86, 3.85),
    "copper_clad_steel_rod": (0.00378, 245, 1084, 8.62, 3.85),
    "aluminum": (0.00403, 228, 657, 2.86, 2.56),
    "aluminum_6201": (0.00347, 268, 654, 3.28, 2.60),
    "aluminum_clad_steel": (0.00360, 258, 657, 8.48, 3.58),
    "steel": (0.00160, 605, 1510, 15.90, 3.28),
    "steel_zinc_coated": (0.00320, 293, 419, 20.10, 3.93),
    "stainless_304": (0.00130, 749, 1400, 72.00, 4.03),
}
CONSTANTS = ("alpha_r", "k0", "fusing_c", "resistivity", "heat_capacity")
BOLTED_C, COMPRESSION_C, BRAZED_C = 250.0, 250.0, 450.0  # IEEE Std 80-2013, 11.3.3 (recalled)


def material_constant(material: ArrayLike, constant: str) -> NDArray[np.float64]:
    """
    One constant of each conductor's material.

    Parameters
    ----------
    material : array_like of str, shape (n,)
        Material by the names of MATERIALS; None where not on record.
    constant : sequence of str
        alpha_r [1/degC], k0 [degC], fusing_c [degC], resistivity [uohm cm] or heat_capacity
        [J/(cm3 degC)].

    Returns
    -------
    ndarray, shape (n,)
        The constant, in the unit named above. [1] NaN where the material is not on record.

    Raises
    ------
    ValueError
        There is no such material or constant.

    Notes
    -----
    The zinc coating, not the steel, sets the limit of zinc-coated steel: 419 degC.

    Source: IEEE Std 80-2013, table 1 (recalled).
    """
    if constant not in CONSTANTS:
        raise ValueError(f"no constant {constant!r}; expected one of {', '.join(CONSTANTS)}")
    column = CONSTANTS.index(constant)
    words = np.asarray(material, dtype=object)
    found = np.full(words.shape, np.nan)
    for word in {w for w in words.ravel() if w is not None}:
        if word not in MATERIALS:
            raise ValueError(f"no material {word!r}; expected one of {', '.join(MATERIALS)}")
        found[words == word] = MATERIALS[word][column]
    return found


def temperature_limit_c(
    fusing_c: ArrayLike,
    joint: ArrayLike,
    bolted_c: float = BOLTED_C,
    compression_c: float = COMPRESSION_C,
    brazed_c: float = BRAZED_C,
) -> NDArray[np.float64]:
    """
    Temperature that a conductor and its weakest joint bear.

    Parameters
    ----------
    fusing_c : array_like, shape (n,)
        Fusing temperature of the metal. [degC]
    joint : array_like of str, shape (n,)
        'bolted', 'compression', 'brazed' or 'exothermic'; None where not on record.
    bolted_c, compression_c, brazed_c : float
        What these joints bear. [degC]

    Returns
    -------
    ndarray, shape (n,)
        The lower of the two. [degC] NaN where metal or joint is not on record.

    Raises
    ------
    ValueError
        There is no such joint, or a limit is not positive.

    Notes
    -----
    An exothermic joint bears what the metal bears.

    Source: IEEE Std 80-2013, 11.3.3 (recalled): 250 to 350 degC for pressure joints, 450 degC for brazing.
    """
    limits = {"bolted": bolted_c, "compression": compression_c, "brazed": brazed_c, "exothermic": np.inf}
    if min(limits.values()) <= 0:
        raise ValueError("bolted_c, compression_c and brazed_c must be positive")
    words = np.asarray(joint, dtype=object)
    bears = np.full(words.shape, np.nan)
    for word in {w for w in words.ravel() if w is not None}:
        if word not in limits:
            raise ValueError(f"no joint {word!r}; expected one of {', '.join(limits)}")
        bears[words == word] = limits[word]
    return np.asarray(np.minimum(np.asarray(fusing_c, dtype=float), bears), dtype=np.float64)


def largest_strap_share(parallel: ArrayLike, imbalance: float) -> NDArray[np.float64]:
    """
    Share of the current in the most loaded of several straps in parallel.

    Parameters
    ----------
    parallel : array_like, shape (n,)
        Number of straps. [1]
    imbalance : float
        Current of the most loaded strap over an equal share. [1]

    Returns
    -------
    ndarray, shape (n,)
        Share: 1 for a single strap. [1] NaN where the number is not on record.

    Raises
    ------
    ValueError
        A number is below 1, or imbalance is.

    Notes
    -----
    min(1, imbalance/n). Straps to different points of a mat do not share equally.

    Source: derived from the definition of imbalance.
    """
    number = np.asarray(parallel, dtype=float)
    if (number < 1).any() or imbalance < 1:
        raise ValueError("parallel and imbalance must be 1 or more")
    return np.minimum(1.0, np.where(number == 1, 1.0, imbalance / number))
