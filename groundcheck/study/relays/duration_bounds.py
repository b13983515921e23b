"""The shortest and the longest that a ground fault may stand, from relays at several places."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Ends:
    """Low and high end of a time at each place. [s]"""

    low: Floats
    high: Floats


@dataclass(frozen=True)
class Watched:
    """
    Pairs of a relay and a place whose faults it clears.

    sure : relays that trip, by the record; `may` also those whose action or function is not on record.
    """

    relay: Ints
    place: Ints
    count: int


def longest_bounds(
    watched: Watched, quick_s: Floats, slow_s: Floats, sure: Bools, may: Bools, doubtful: Bools, otherwise: Ends
) -> Ends:
    """
    Ends of the longest time over the relays of each place; those of `otherwise` where no relay clears it.

    quick_s, slow_s : of each relay; infinite where it does not pick up.
    doubtful : places that a relay may belong to of which the record does not tell what it measures.

    A relay that surely trips and surely picks up can only be outlasted, so that one settles the low end. While none
    does, the place may turn out to be cleared by what `otherwise` describes.
    """
    relay, place, count = watched.relay, watched.place, watched.count
    settles = sure[relay] & np.isfinite(slow_s[relay])
    counts = may[relay] & np.isfinite(quick_s[relay])
    settled_low, settled = np.zeros(count), np.zeros(count, dtype=bool)
    np.maximum.at(settled_low, place[settles], quick_s[relay[settles]])
    settled[place[settles]] = True
    shortest, longest = np.full(count, np.inf), np.full(count, -np.inf)
    np.minimum.at(shortest, place[counts], quick_s[relay[counts]])
    np.maximum.at(longest, place[counts], slow_s[relay[counts]])
    low = np.where(settled, settled_low, np.minimum(shortest, otherwise.low))
    high = np.where(settled, longest, np.maximum(longest, otherwise.high))
    return Ends(np.where(doubtful & ~settled, 0.0, low), np.where(doubtful, np.inf, high))
