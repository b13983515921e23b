"""A fleet in which each station but some has one defect."""

import os
from collections import Counter
from dataclasses import dataclass, field
from itertools import count, cycle
from typing import Any

import numpy as np
import pandas as pd
from generated_fleet.defects import DEFECTS
from generated_fleet.defects.register import Defect
from generated_fleet.station import Rows
from generated_fleet.stations import KINDS, sound_station

USUAL = 2_100
CODE = "ST{:05}"
SOUND_EVERY = 15  # defects, after which comes a sound station
SAMPLES = 4  # stations of a kind on which it is tried whether a defect suits the kind
WANTED = int(os.environ.get("GROUNDCHECK_INJECTIONS", str(USUAL)))
SEED = WANTED  # another number draws another fleet, the same number the same one


@dataclass
class Campaign:
    """The fleet's tables; by station its kind, and its defect where it has one."""

    tables: dict[str, list[dict[str, Any]]] = field(default_factory=dict)
    kinds: dict[str, str] = field(default_factory=dict)
    defects: dict[str, Defect] = field(default_factory=dict)

    def add(self, code: str, kind: str, rows: Rows, defect: Defect | None) -> None:
        """One more station."""
        self.kinds[code] = kind
        if defect is not None:
            self.defects[code] = defect
        for table, each in rows.items():
            self.tables.setdefault(table, []).extend(each)

    def frames(self) -> dict[str, pd.DataFrame]:
        """As a caller of the library hands them over."""
        return {table: pd.DataFrame(rows) for table, rows in self.tables.items()}

    def sound(self) -> list[str]:
        """Stations without a defect."""
        return [code for code in self.kinds if code not in self.defects]

    def applied(self) -> Counter[str]:
        """How many defects each rule has to find."""
        return Counter(defect.rule for defect in self.defects.values())


def build(wanted: int, seed: int, rules: set[str]) -> Campaign:
    """So many defects of these rules, in turn by rule, by defect and by kind of station, and sound stations between."""
    campaign = Campaign()
    pairs = applicable(rules)
    turns = {rule: cycle(pairs[rule]) for rule in sorted(pairs)}
    kinds = cycle(KINDS)
    draws = count()
    while len(campaign.defects) < wanted and turns:
        for rule in turns:
            if len(campaign.defects) % SOUND_EVERY == 0:
                kind = next(kinds)
                code = CODE.format(len(campaign.kinds))
                campaign.add(code, kind, sound_station(kind, code, np.random.default_rng([seed, next(draws)])), None)
            injected = None
            while injected is None:  # a defect may suit some stations of a kind and not others
                defect, kind = next(turns[rule])
                code, rng = CODE.format(len(campaign.kinds)), np.random.default_rng([seed, next(draws)])
                injected = defect.change(sound_station(kind, code, rng), rng)
            campaign.add(code, kind, injected, defect)
    return campaign


def applicable(rules: set[str]) -> dict[str, list[tuple[Defect, str]]]:
    """By rule, the defects and the kinds of station that they suit, tried on a few stations of each kind."""
    samples = {
        kind: [sound_station(kind, "TRY", np.random.default_rng([0, n])) for n in range(SAMPLES)] for kind in KINDS
    }
    found: dict[str, list[tuple[Defect, str]]] = {}
    for defect in DEFECTS:
        for kind, stations in samples.items():
            trials = (defect.change(duplicate(rows), np.random.default_rng(n)) for n, rows in enumerate(stations))
            if defect.rule in rules and any(trial is not None for trial in trials):
                found.setdefault(defect.rule, []).append((defect, kind))
    return found


def drawn_as(station: str) -> str:
    """The code under which a station, or the one beside which it stands, was drawn."""
    return station[: len(CODE.format(0))]


def duplicate(rows: Rows) -> Rows:
    """Records that may be changed without changing these."""
    return {table: [dict(row) for row in each] for table, each in rows.items()}
