"""Coordination interval: by how much a relay lets the one that it backs up go first."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from groundcheck.engineering.relay_elements import Element, element_time_s

Floats = NDArray[np.float64]
COARSE = 500  # points of the first search, by distance from where the later of the two picks up
NEAREST = 1e-10  # least such distance, as a share of the range
FINE = 33  # points of each refinement, of which there are
ROUNDS = 4


def least_interval_s(
    backup: Element,
    primary: Element,
    backup_a: tuple[ArrayLike, ArrayLike],
    primary_a: tuple[ArrayLike, ArrayLike],
    breaker_s: ArrayLike = 0.0,
) -> tuple[Floats, Floats, Floats]:
    """
    Smallest coordination interval over all fault currents that two relays share.

    Parameters
    ----------
    backup, primary : Element
        Settings of the relay that waits and of the one that goes first, shape (n,). [A], [s]
    backup_a, primary_a : array_like, shape (n,)
        Smallest and largest current through each, as a pair of arrays: for the same faults,
        from the weakest to the strongest. [A]
    breaker_s : array_like, shape (n,)
        Clearing time of the first relay's breaker, if it is to be taken off the interval. [s]

    Returns
    -------
    least_s, at_backup_a, at_primary_a : ndarray, shape (n,)
        The interval, and the currents of both at which it is found. [s], [A] Minus infinity
        where the relay that should wait operates for a current at which the other never
        does; infinite where the relay that waits never operates. NaN where an input that
        matters is not on record.

    Raises
    ------
    ValueError
        A smallest current is above its largest or negative, or as element_time_s.

    Notes
    -----
    t_backup(I_b) - t_primary(I_p) - t_breaker. The difference of two curves need not be
    monotone, so both ends alone do not tell. Between them both currents rise in
    proportion of their logarithms: the same current where both ranges are the same. The search is by
    distance from the point where the later of the two picks up, with what is at each end
    and on both sides of every pickup, and is refined around the least. On random pairs it
    agrees with a bounded minimizer to 1e-6 of the operating times.

    Source: derived.
    """
    (b_low, b_high), (p_low, p_high) = _range(backup_a), _range(primary_a)
    elements = [
        _broadcast(e, np.broadcast_shapes(b_low.shape, p_low.shape, np.shape(breaker_s))) for e in (backup, primary)
    ]
    shape = np.asarray(elements[0].pickup_a).shape
    ends = [np.broadcast_to(x, shape).astype(float) for x in (b_low, b_high, p_low, p_high)]

    def difference(share: Floats) -> tuple[Floats, Floats, Floats]:
        backup_at, primary_at = _between(ends[0], ends[1], share), _between(ends[2], ends[3], share)
        waits = element_time_s(backup_at, _columns(elements[0]))
        goes = element_time_s(primary_at, _columns(elements[1]))
        with np.errstate(invalid="ignore"):
            gap = np.where(np.isinf(waits) & ~np.isnan(goes), np.inf, waits - goes)
        return gap, backup_at, primary_at

    shares = _first_shares(elements, ends)
    for _ in range(ROUNDS):
        gap, _, _ = difference(shares)
        shares = _around_least(shares, np.where(np.isnan(gap), np.inf, gap))
    gap, backup_at, primary_at = difference(shares)
    unknown = np.isnan(gap).any(axis=-1)
    best = np.where(np.isnan(gap), np.inf, gap).argmin(axis=-1)[..., None]
    least, at_b, at_p = (np.take_along_axis(x, best, axis=-1)[..., 0] for x in (gap, backup_at, primary_at))
    return np.where(unknown, np.nan, least - np.asarray(breaker_s, dtype=float)), at_b, at_p


def _range(pair: tuple[ArrayLike, ArrayLike]) -> tuple[Floats, Floats]:
    low, high = (np.atleast_1d(np.asarray(x, dtype=float)) for x in pair)
    if (low > high).any() or (low < 0).any():
        raise ValueError("a smallest current must not be negative or above its largest")
    return low, high


def _broadcast(element: Element, shape: tuple[int, ...]) -> Element:
    fields = [element.pickup_a, element.curve, element.time_dial, element.definite_s,
              element.instantaneous_a, element.instantaneous_s]  # fmt: skip
    shape = np.broadcast_shapes(shape, *(np.shape(f) for f in fields))
    kinds = [float, object, float, float, float, float]
    return Element(*(np.broadcast_to(np.asarray(f, dtype=k), shape) for f, k in zip(fields, kinds, strict=True)))


def _columns(element: Element) -> Element:
    """The same settings for every point of a search along the last axis."""
    return Element(*(np.asarray(getattr(element, name))[..., None] for name in element.__dataclass_fields__))


def _between(low: Floats, high: Floats, share: Floats) -> Floats:
    """Current at a share of the way from low to high, by logarithm; exact at both ends."""
    low, high = np.maximum(low, 1e-12)[..., None], np.maximum(high, 1e-12)[..., None]
    current = low * (high / low) ** share
    return np.where(share <= 0, low, np.where(share >= 1, high, current))


def _share_of(current: Floats, low: Floats, high: Floats) -> Floats:
    """The share of the way at which a current lies; 0 and 1 where it lies outside, or there is no way."""
    low, high = np.maximum(low, 1e-12), np.maximum(high, 1e-12)
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.log(current / low) / np.log(high / low)
    known = np.nan_to_num(np.where(high > low, share, 0.0), nan=0.0, posinf=1.0, neginf=0.0)
    clipped: Floats = np.clip(known, 0.0, 1.0)
    return clipped


def _first_shares(elements: list[Element], ends: list[Floats]) -> Floats:
    edges = []
    for element, low, high in zip(elements, ends[::2], ends[1::2], strict=True):
        for pickup in (element.pickup_a, element.instantaneous_a):
            at = _share_of(np.asarray(pickup, dtype=float), low, high)
            edges += [np.clip(at - 1e-9, 0, 1), at, np.clip(at + 1e-9, 0, 1)]
    start = np.maximum(edges[1], edges[7])  # where the later of the two timed stages picks up
    away = np.concatenate([[0.0], np.geomspace(NEAREST, 1.0, COARSE)])
    shares = np.concatenate(
        [start[..., None] + (1 - start)[..., None] * away, np.linspace(0, 1, 41) * np.ones((*start.shape, 1)),
         np.stack(edges, axis=-1)], axis=-1,
    )  # fmt: skip
    return np.sort(shares, axis=-1)


def _around_least(shares: Floats, gap: Floats) -> Floats:
    """Finer points between the neighbors of the least, the least itself and both neighbors among them."""
    best = gap.argmin(axis=-1)[..., None]
    count = shares.shape[-1]
    below = np.take_along_axis(shares, np.maximum(best - 1, 0), axis=-1)
    at = np.take_along_axis(shares, best, axis=-1)
    above = np.take_along_axis(shares, np.minimum(best + 1, count - 1), axis=-1)
    step = np.linspace(0, 1, FINE)
    return np.concatenate([below + (at - below) * step, at + (above - at) * step[1:]], axis=-1)
