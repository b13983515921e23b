"""Every voltage transformer with its bus, how it is connected, and what ratio its record may mean."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded
from groundcheck.study.context import Study
from groundcheck.study.currents.readings import taken
from groundcheck.study.relays.vt_connection import KIND, names_broken_delta, stands_to_ground

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
ROOT3 = float(np.sqrt(3))


@dataclass(frozen=True)
class VoltageTransformers:
    """
    Of each instrument transformer: its bus, -1 where not on record, and ratings in V.

    is_vt : the others are current transformers.
    to_ground : 1 where its primary stands between line and ground, 0 where between lines, NaN where not on record.
    broken_delta : whether the record names a broken delta.
    unit_v : rated primary of one unit. A record as of 11000/110 V for three in wye is customarily short for line-to-
        line values: then it is 11000/sqrt(3), unless the units are made for line-to-line voltage.
    delta_ratio : primary over the winding in the delta, by the ratio on record; its low and high end cover windings in
        the delta of a ratio of their own.
    """

    bus: Ints
    is_vt: Bools
    to_ground: Floats
    broken_delta: Bools
    unit_v: Bounded
    delta_ratio: Bounded


def voltage_transformers(study: Study) -> VoltageTransformers:
    """Read the instrument transformers."""
    records = study.records
    bus = records.bus_of(KIND, "bus")
    primary, secondary = records.numbers(KIND, "primary"), records.numbers(KIND, "secondary")
    line_v = np.asarray(taken(records.nominal_kv, bus), dtype=float) * 1e3
    delta = names_broken_delta(study)
    to_ground = np.where(delta, 1.0, stands_to_ground(study))
    with np.errstate(invalid="ignore", divide="ignore"):
        # Nearer to line-to-line than to line-to-neutral voltage, by ratio: 1.1 V_LL and V_LL/1.2 are line-to-line.
        marked_line = primary > line_v / 3**0.25
        per_unit = np.where(marked_line & (to_ground != 0), primary / ROOT3, primary)
        ratio = primary / secondary
    blank = np.isnan(ratio)
    return VoltageTransformers(
        bus,
        records.words(KIND, "kind") == "vt",
        to_ground,
        delta,
        Bounded(np.where(np.isnan(to_ground) | np.isnan(line_v), np.nan, per_unit),
                np.nan_to_num(np.minimum(primary / ROOT3, primary)), np.where(np.isnan(primary), np.inf, primary)),
        Bounded(ratio, np.where(blank, 0.0, ratio / ROOT3), np.where(blank, np.inf, ratio * ROOT3)),
    )  # fmt: skip
