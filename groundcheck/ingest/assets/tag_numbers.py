"""Numbers for tags and stations, whatever their case and blanks: whole numbers are compared faster than texts."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.ingest.assets.identity import tag_key

_HALF = 32  # bits: a station's number stands above that of a tag


class TagNumbers:
    """Gives each tag a number; two spellings of one tag have the same."""

    def __init__(self) -> None:
        self._numbers: dict[str, int] = {}
        self._written: dict[str, int] = {}

    def of(self, texts: pd.Series) -> NDArray[np.int64]:
        """The number of each text; -1 for none."""
        codes, distinct = pd.factorize(texts)
        written = self._written
        for text in distinct.tolist():
            if text not in written:
                written[text] = self._numbers.setdefault(tag_key(text), len(self._numbers))
        return np.asarray([*map(written.__getitem__, distinct.tolist()), -1], dtype=np.int64)[codes]

    def places(self, stations: pd.Series, tags: pd.Series) -> NDArray[np.int64]:
        """One number for each tag at its station."""
        return (self.of(stations) << _HALF) | self.of(tags)

    def station(self, name: str) -> int:
        """The number of one station; -1 if it has none."""
        return self._numbers.get(tag_key(name), -1)


def station_part(places: NDArray[np.int64]) -> NDArray[np.int64]:
    """The numbers of the stations of places."""
    return places >> _HALF
