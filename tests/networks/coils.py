"""Power equipment as coupled coils, phase by phase: admittance matrices between coil voltages, in siemens.

No symmetrical network is assumed anywhere: sequence values are turned into three coupled phases here, and only here.
"""

from collections.abc import Sequence

import numpy as np

A = np.exp(2j * np.pi / 3)
TO_PHASES = np.array([[1, 1, 1], [1, A**2, A], [1, A, A**2]])
TO_SEQUENCES = np.linalg.inv(TO_PHASES)


def three_phases(zero, positive, negative=None):
    """Three coupled phases that have these sequence values; not symmetric where negative differs from positive."""
    values = np.array([zero, positive, positive if negative is None else negative], dtype=complex)
    return TO_PHASES @ np.diag(values) @ TO_SEQUENCES


def interleave(zero, positive):
    """Matrix between coils (winding by winding, three phases each) from those between windings in each sequence."""
    count = len(zero)
    blocks = [[three_phases(zero[i][j], positive[i][j]) for j in range(count)] for i in range(count)]
    return np.block(blocks)


def impedance(percent, x_over_r, mva):
    """Per cent on a rating, as a complex number for one kV: times kV squared it is in ohm."""
    return percent / 100 / mva * complex(1, x_over_r) / np.hypot(1, x_over_r)


def star(branches: Sequence[complex], turns: Sequence[float], shorted: Sequence[complex] = ()) -> np.ndarray:
    """
    Windings on one core, each with its share of the leakage in ohm per square of turns.

    The ampere-turns of all add up to zero. `shorted` are branches of closed rings that nothing is connected to.
    """
    # In more digits, since a branch may be nearly zero.
    y = 1 / np.array(branches, dtype=np.clongdouble)
    total = y.sum() + sum(1 / np.clongdouble(z) for z in shorted)
    turn = np.array(turns, dtype=float)
    return ((np.diag(y) - np.outer(y, y) / total) / np.outer(turn, turn)).astype(complex)


def shares(h_l: complex, h_t: complex, l_t: complex) -> list[complex]:
    """What each of three windings holds of the leakage, from that of each pair."""
    return [(h_l + h_t - l_t) / 2, (h_l + l_t - h_t) / 2, (h_t + l_t - h_l) / 2]


def auto_shares(h_l: complex, h_t: complex, l_t: complex, turns_h: float, turns_l: float) -> list[complex]:
    """
    Leakage of the series, the common and the third winding, per square of turns.

    From three tests: H with L shorted (the whole voltage stands on the series winding), H with T shorted (the current
    flows through series and common winding), L with T shorted (nothing in the series winding). Each is given per
    square of the turns of the terminal it is measured at.
    """
    series, common = turns_h - turns_l, turns_l
    tests = np.array([[series**2, series**2, 0], [series**2, common**2, turns_h**2], [0, common**2, common**2]])
    return list(np.linalg.solve(tests, [h_l * turns_h**2, h_t * turns_h**2, l_t * common**2]))


def shapes(letter: str, count: int = 3):
    """
    Ends of the coils of a winding, as (from, to) pairs of terminals 0 to 2, neutral 'n' and inner joints 'j0' to 'j2'.

    Every way to connect it: polarity reversed or not, terminals turned, a delta or zigzag either way round.
    A zigzag has two coils a phase: three first halves, then three second halves.
    """
    for turn in range(count):
        t = [(p + turn) % 3 for p in range(3)]
        for step in (1, 2):
            nxt = [(p + step) % 3 for p in range(3)]
            if letter == "Y":
                ends = [(t[p], "n") for p in range(3)]
            elif letter == "D":
                ends = [(t[p], t[nxt[p]]) for p in range(3)]
            else:  # first half on core p, then the second half of the next core the other way round
                ends = [(t[p], f"j{p}") for p in range(3)] + [("n", f"j{nxt.index(p)}") for p in range(3)]
            yield ends
            yield [(b, a) for a, b in ends]


def induced(ends) -> complex:
    """Voltage of the first coil for one volt a phase of positive sequence at the terminals."""
    volts = {0: 1.0, 1: A**2, 2: A, "n": 0.0}
    if len(ends) == 3:
        return volts[ends[0][0]] - volts[ends[0][1]]
    # Zigzag: terminal p to neutral = first half on core p less second half on the next core, both halves alike.
    reverse = isinstance(ends[0][0], str) and ends[0][0].startswith("j")
    joints = [(b, a) if reverse else (a, b) for a, b in ends]
    terminal = {joint: t for t, joint in joints[:3]}
    partner = {joint: core for core, (_, joint) in enumerate(joints[3:])}
    matrix = np.zeros((3, 3), dtype=complex)
    right = np.zeros(3, dtype=complex)
    for core in range(3):
        joint = joints[core][1]
        matrix[core, core] += 1
        matrix[core, partner[joint]] -= 1
        right[core] = volts[terminal[joint]]
    matrix[2], right[2] = 1, 0  # no zero sequence in the cores
    return np.linalg.solve(matrix, right)[0] * (-1 if reverse else 1)


def connect(letter: str, reference: complex, hour: int):
    """Coils of a winding whose terminals lag by so many hours those of a winding that induces `reference`."""
    for ends in shapes(letter):
        lag = np.angle(induced(ends) / reference) / (np.pi / 6)
        if abs((lag - hour + 6) % 12 - 6) < 1e-6:
            return ends
    raise ValueError(f"no winding {letter} has clock number {hour}")
