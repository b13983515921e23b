"""Power transformers in the zero-sequence network, in batches of one winding arrangement each."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import (
    magnetizing_pairs,
    star_admittance,
    star_arms,
    two_winding_admittance,
    winding_admittance,
    zero_sequence_admittance,
    zigzag_winding_z0,
)
from groundcheck.study.networks.equipment import Transformers
from groundcheck.study.networks.neutrals import WINDINGS, Neutrals
from groundcheck.study.networks.zero_paths import (
    FLOATING,
    ZeroSequence,
    add_neutral_branch,
    add_unknown,
)
from groundcheck.study.records import Records
from groundcheck.study.typical import Typical

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Complexes = NDArray[np.complex128]
Words = NDArray[np.str_]
Objects = NDArray[np.object_]


def add_transformers(
    built: ZeroSequence, neutrals: Neutrals, transformers: Transformers, typical: Typical, records: Records
) -> None:
    """All power transformers, in batches of one winding arrangement each."""
    frame = _arrangements(built, neutrals, transformers, typical, records)
    frame = frame[transformers.usable]
    for _, batch in frame.groupby("arrangement", sort=True):
        _add_arrangement(built, neutrals, transformers, typical, batch)
    _add_zigzag_windings(built, neutrals, transformers, frame)
    _block_neutrals(neutrals, transformers, typical)


def _arrangements(
    built: ZeroSequence, neutrals: Neutrals, transformers: Transformers, typical: Typical, records: Records
) -> pd.DataFrame:
    """One row a transformer: point and role of each winding (wye, open, delta, none), and the core."""
    points, count = neutrals.points, len(records.tables["transformer"])
    point, connection = np.full((count, 3), -1, dtype=np.int64), np.full((count, 3), "none", dtype=object)
    mine = np.flatnonzero(points["asset_kind"].to_numpy(dtype=object) == "transformer")
    at = (
        points["row"].to_numpy(dtype=np.int64)[mine],
        pd.Index(WINDINGS).get_indexer(pd.Index(points["winding"].iloc[mine])),
    )
    point[at], connection[at] = mine, points["connection"].to_numpy(dtype=object)[mine]
    none = connection == "none"
    live = ~none & ((built.point_node[point] != FLOATING) | neutrals.unknown[point]) if mine.size else ~none
    role = np.select(
        [connection == "D", ((connection == "YN") | (connection == "Y")) & live, none],
        ["delta", "wye", "none"],
        default="open",
    )
    core = np.array([word or "unknown" for word in records.words("transformer", "core_form")], dtype=object)
    auto = none[:, 1]
    _float_open_neutrals(built, point, role, core, auto)
    role[auto, 1], point[auto, 1] = role[auto, 0], point[auto, 0]
    delta, wyes = (role == "delta").any(axis=1), (role == "wye").sum(axis=1)
    balance = np.select([delta | (wyes == 0), core == "three_limb"], ["delta", "three_limb"], default="plain")
    arrangement = [" ".join(words) for words in np.column_stack([role, balance])]
    core_open = transformers.usable & ~delta & (core == "unknown")
    undecided, coupled = core_open & (wyes == 1), core_open & (wyes > 1)
    if typical.policy.admits("core_form"):
        typical.ledger.assume(
            "transformer", coupled, "core_form", "no magnetizing path",
            "core not on record; between two grounded windings the magnetizing path carries little",
            {"zero": transformers.node[:, 0]},
        )  # fmt: skip
    else:
        undecided |= coupled
    columns = {f"{winding}_point": point[:, w] for w, winding in enumerate(WINDINGS)}
    columns |= {f"{winding}_connection": connection[:, w] for w, winding in enumerate(WINDINGS)}
    return pd.DataFrame({"row": np.arange(count), **columns, "arrangement": arrangement, "core_decides": undecided})


def _float_open_neutrals(built: ZeroSequence, point: Ints, role: Words, core: Objects, auto: Bools) -> None:
    """With its neutral open an auto-transformer with a delta, or a three-limb core, still passes current through."""
    floats = auto & (role[:, 0] == "open") & ((role[:, 2] == "delta") | (core == "three_limb"))
    built.point_node[point[floats, 0]] = built.network.add_nodes(int(floats.sum()))
    role[floats, 0] = "wye"


def _add_arrangement(
    built: ZeroSequence, neutrals: Neutrals, transformers: Transformers, typical: Typical, batch: pd.DataFrame
) -> None:
    rows = batch["row"].to_numpy(dtype=np.int64)
    hv, lv, tv, core = str(batch["arrangement"].iloc[0]).split(" ")
    roles = [hv, lv] if tv == "none" else [hv, lv, tv]
    wyes = [w for w, role in enumerate(roles) if role == "wye"]
    if not wyes:
        return
    columns = [f"{w}_point" for w in ("hv", "lv", "tv")]
    point = batch[columns].to_numpy(dtype=np.int64)
    node, z, ratio = transformers.node[rows], transformers.zero[rows], transformers.ratio[rows]
    decides = batch["core_decides"].to_numpy(dtype=bool)
    if decides.any():
        for w in wyes:
            add_unknown(built, point[decides, w], node[decides, w])
            which = np.zeros(transformers.usable.size, dtype=bool)
            which[rows[decides]] = True
            typical.ledger.block("zero", "transformer", which, "core_form", transformers.node[:, w])
        keep = ~decides
        rows, point, node, z, ratio = rows[keep], point[keep], node[keep], z[keep], ratio[keep]
    if len(wyes) == 1 and core == "plain":
        first = wyes[0]
        built.probe(point[:, first], node[:, first], np.zeros(rows.size), node[:, first])  # nothing balances it: zero
        return
    if not rows.size:
        return
    if len(roles) == 3:
        for pair, name in ((1, "hv_tv_impedance"), (2, "lv_tv_impedance")):
            which = np.zeros(transformers.usable.size, dtype=bool)
            which[rows[np.isnan(transformers.zero[rows, pair]) & np.isnan(transformers.positive[rows, pair])]] = True
            for w in wyes:
                typical.ledger.block("zero", "transformer", which, name, transformers.node[:, w])
    y, roles = _winding_matrix(z, ratio, roles, core, transformers.base_ohm[rows], typical, rows, transformers)
    y = zero_sequence_admittance(y, roles)
    _stamp(built, y, wyes, point, node)
    treatment = neutrals.points["treatment"].to_numpy(dtype=object)
    for w in wyes:
        doubtful = neutrals.unknown[point[:, w]]
        add_unknown(built, point[doubtful, w], node[doubtful, w])
        open_neutral = np.isin(treatment[point[:, w]].astype(str), ("open", "surge_arrester"))
        own = ~doubtful & ~open_neutral & ("delta" in roles)
        built.ground_at(point[own, w], node[own, w], treatment[point[own, w]])
        passed_on = ~doubtful & ~own
        built.coupled.append((point[passed_on, w], node[passed_on, w]))


def _winding_matrix(
    z: Complexes,
    ratio: Floats,
    roles: list[str],
    core: str,
    base_ohm: Floats,
    typical: Typical,
    rows: Ints,
    transformers: Transformers,
) -> tuple[Complexes, list[str]]:
    """Admittance between winding voltages; a three-limb core adds a fictitious delta winding."""
    if core != "three_limb" and len(roles) == 3:
        return winding_admittance(z[:, 0], z[:, 1], z[:, 2], ratio[:, 0], ratio[:, 1]), roles
    if core != "three_limb":
        return two_winding_admittance(z[:, 0], ratio[:, 0]), roles
    recorded = typical.ledger.records.numbers("transformer", "magnetizing_z0")
    elsewhere = np.ones(transformers.usable.size, dtype=bool)
    elsewhere[rows] = False
    percent = typical.fill(
        "transformer", "magnetizing_z0", np.where(elsewhere, 0.0, recorded), "magnetizing_z0",
        typical.policy["assume.value.magnetizing_percent"], unit="%",
        why="zero-sequence magnetizing impedance of a three-limb core, 40 to 150 %",
        nodes={"zero": transformers.node[:, 0]},
    )[rows]  # fmt: skip
    which = ~elsewhere & np.isnan(recorded)
    if np.isnan(percent).any():
        typical.ledger.block("zero", "transformer", which, "magnetizing_z0", transformers.node[:, 0])
    z_m = 1j * base_ohm * percent / 100
    if len(roles) == 3:
        arms = np.column_stack([star_arms(z[:, 0], z[:, 1], z[:, 2]), z_m])
        one = np.ones(rows.size)
        return star_admittance(arms, np.column_stack([one, ratio, one])), [*roles, "delta"]
    z_ht, z_lt = magnetizing_pairs(z[:, 0], z_m)
    return winding_admittance(z[:, 0], z_ht, z_lt, ratio[:, 0], np.ones(rows.size)), [*roles, "delta"]


def _stamp(built: ZeroSequence, y: Complexes, wyes: list[int], point: Ints, node: Ints) -> None:
    """Enter winding admittances between bus and neutral of each winding."""
    for i in wyes:
        neutral_i = built.point_node[point[:, i]]
        for j in wyes:
            neutral_j, y_ij = built.point_node[point[:, j]], y[:, i, j]
            built.network.add(node[:, i], node[:, j], y_ij)
            built.network.add(node[:, i], neutral_j, -y_ij)
            built.network.add(neutral_i, node[:, j], -y_ij)
            built.network.add(neutral_i, neutral_j, y_ij)
            built.probe(point[:, i], node[:, j], y_ij, node[:, i])
            built.probe(point[:, i], neutral_j, -y_ij, node[:, i])


def _add_zigzag_windings(
    built: ZeroSequence, neutrals: Neutrals, transformers: Transformers, frame: pd.DataFrame
) -> None:
    """A zn winding grounds its own bus, whatever the other windings are."""
    for w, winding in enumerate(("hv", "lv", "tv")):
        zigzag = (frame[f"{winding}_connection"] == "ZN") | (frame[f"{winding}_connection"] == "Z")
        rows = frame.loc[zigzag, "row"].to_numpy(dtype=np.int64)
        point = frame.loc[zigzag, f"{winding}_point"].to_numpy(dtype=np.int64)
        ratio = np.ones(rows.size) if w == 0 else transformers.ratio[rows, w - 1]
        z = zigzag_winding_z0(transformers.positive[rows, 0]) / ratio**2
        add_neutral_branch(built, neutrals, point, transformers.node[rows, w], z)
        unknown = neutrals.unknown[point]
        add_unknown(built, point[unknown], transformers.node[rows, w][unknown])


def _block_neutrals(neutrals: Neutrals, transformers: Transformers, typical: Typical) -> None:
    """Ask how each neutral of which nothing is on record is treated."""
    points = neutrals.points
    for w, winding in enumerate(("hv", "lv", "tv")):
        mine = ((points["asset_kind"] == "transformer") & (points["winding"] == winding)).to_numpy() & neutrals.unknown
        which = np.zeros(transformers.usable.size, dtype=bool)
        which[points.loc[mine, "row"].to_numpy(dtype=np.int64)] = True
        typical.ledger.block(
            "zero", "transformer", which & transformers.usable, f"{winding}_neutral", transformers.node[:, w]
        )
