"""Which lines carry a shield wire that relieves the mats at their ends, and by how much."""

import re
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded
from groundcheck.study.context import Study
from groundcheck.study.faults.zone_table import nullable
from groundcheck.study.gaps import joined

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
ENDS = ("from", "to")


@dataclass(frozen=True)
class WireEnds:
    """
    The ends of all lines at buses on record: line, end, bus, and what returns through the earth there.

    typical : the reduction is the policy's for such a wire.
    """

    line: Ints
    end: NDArray[np.object_]
    bus: Ints
    has_wire: Floats
    bonded: Floats
    reduction: Bounded
    typical: Bools


def wire_ends(study: Study) -> WireEnds:
    """
    Every end of every line.

    A wire that is not bonded to the mat takes nothing from it there: what it carries along the line passes through the
    towers next to the station. Where the wire is bonded, the policy's typical factor stands for its own data, which no
    record holds; it may be anything from none to all.
    """
    records, policy = study.records, study.policy
    has, factor = _wires(study)
    parts = []
    for end in ENDS:
        bus = records.bus_of("line", f"{end}_bus")
        bonded = records.flags("line", f"shield_wire_bonded_{end}")
        rows = np.flatnonzero(bus >= 0)
        parts.append((rows, np.full(rows.size, end, dtype=object), bus[rows], has[rows], bonded[rows], factor[rows]))
    line, at, bus, present, bonded, usual = (np.concatenate(column) for column in zip(*parts, strict=True))
    none = (present == 0) | (bonded == 0)
    relieves = (present == 1) & (bonded == 1)
    admitted = policy.admits("split_factor")
    typical = relieves & ~np.isnan(usual) & admitted
    value = np.where(none, 1.0, np.where(typical, usual, np.nan))
    ends = Bounded(value, np.where(none, 1.0, 0.0), np.ones(line.size))
    return WireEnds(line, at, bus, present, bonded, ends, typical)


def _wires(study: Study) -> tuple[Floats, Floats]:
    """Of each line: 1.0, 0.0 or NaN for a shield wire; and the typical factor of such a wire."""
    policy = study.policy
    code, texts = pd.factorize(pd.Series(study.records.words("line", "shield_wire"), dtype=object))

    def like(entry: str) -> Bools:
        """Of each line, whether its wire is described so; each different text is looked at once."""
        pattern = re.compile(policy[f"shield_wire.{entry}"])
        fits = np.array([pattern.search(str(text).strip().lower()) is not None for text in texts] + [False], dtype=bool)
        return fits[code]

    none, aluminum = like("none_words"), like("aluminum_words")
    has = np.where(none, 0.0, np.where(code < 0, np.nan, 1.0))
    poor, good = policy["assume.value.shield_wire_steel"], policy["assume.value.shield_wire_aluminum"]
    # A wire of which the record names no metal counts as the poorer one.
    factor = np.where(aluminum, float(good), float(poor))
    return has, np.where(has == 1, factor, np.nan)


def shield_wire_table(study: Study, ends: WireEnds) -> tuple[pd.DataFrame, pd.DataFrame]:
    """The rows of study.shield_wire, and of study.blocked for them."""
    station, tag = study.records.tags("line")
    bus = study.records.bus
    table = pd.DataFrame(
        {
            "substation": station[ends.line],
            "line": tag[ends.line],
            "end": ends.end,
            "end_substation": bus["substation"].to_numpy(dtype=object)[ends.bus],
            "end_bus": bus["bus"].to_numpy(dtype=object)[ends.bus],
            "has_wire": nullable(ends.has_wire),
            "bonded": nullable(ends.bonded),
            **ends.reduction.columns("reduction"),
            "provisional": ends.typical,
        }
    )
    assets = table[["substation"]].assign(asset_kind="line", asset=table["line"])
    missing = np.isnan(ends.reduction.value)
    waits = [
        (missing & np.isnan(ends.has_wire), "shield_wire"),
        (missing & np.isnan(ends.bonded) & (ends.end == "from"), "shield_wire_bonded_from"),
        (missing & np.isnan(ends.bonded) & (ends.end == "to"), "shield_wire_bonded_to"),
    ]
    blocks = [
        assets[which].assign(
            quantity="shield_wire.reduction", blocking_substation=assets["substation"],
            blocking_asset_kind="line", blocking_asset=assets["asset"], field=field,
        )
        for which, field in waits
    ]  # fmt: skip
    return table, joined(blocks)


def split_of_pairs(study: Study, ends: WireEnds, station: NDArray[np.object_], bus: Ints) -> tuple[Bounded, Bools]:
    """
    Share of the earth current that passes through each station's mat for a fault at each bus.

    That of the least relieving line of the faulted zone at the station; not known where an infeed comes in over a line
    that is not on record, or no line does. The second result marks those that rest on a typical factor.
    """
    zone, home = study.topology.zone, study.records.bus["substation"].to_numpy(dtype=object)
    rows = pd.DataFrame(
        {
            "substation": home[ends.bus],
            "zone": zone[ends.bus],
            "value": ends.reduction.value,
            "low": ends.reduction.low,
            "typical": ends.typical,
        }
    )
    infeed = study.infeeds.bus[study.infeeds.bus >= 0]
    unseen = pd.DataFrame(
        {"substation": home[infeed], "zone": zone[infeed], "value": np.nan, "low": 0.0, "typical": False}
    )
    rows = pd.concat([rows, unseen.astype({"typical": bool})], ignore_index=True)
    grouped = rows.assign(gap=rows["value"].isna()).groupby(["substation", "zone"], as_index=False)
    found = grouped.agg(value=("value", "max"), low=("low", "min"), typical=("typical", "any"), gap=("gap", "any"))
    wanted = pd.DataFrame({"substation": station, "zone": zone[bus]}).merge(
        found, on=["substation", "zone"], how="left"
    )
    known = wanted["gap"].isin([False]).to_numpy(dtype=bool)  # a pair without a line has no gap to tell of
    value = np.where(known, wanted["value"].to_numpy(dtype=float), np.nan)
    low = np.nan_to_num(wanted["low"].to_numpy(dtype=float))
    typical = known & wanted["typical"].fillna(False).to_numpy(dtype=bool)
    return Bounded(value, low, np.ones(value.size)), typical & (value < 1)
