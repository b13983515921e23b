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
from groundcheck.study.networks.neutrals import Neutrals
from groundcheck.study.networks.zero_paths import (
    FLOATING,
    ZeroSequence,
    add_neutral_branch,
    add_unknown,
    unknown_neutral,
)
from groundcheck.study.records import Records
from groundcheck.study.typical import Typical

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Complexes = NDArray[np.complex128]


def add_transformers(
    built: ZeroSequence, neutrals: Neutrals, transformers: Transformers, typical: Typical, records: Records
) -> None:
    """All power transformers, in batches of one winding arrangement each."""
    frame = _arrangements(built, neutrals, transformers, typical, records)
    frame = frame[transformers.usable]
    for _, batch in frame.groupby("arrangement", sort=True):
        _add_arrangement(built, neutrals, transformers, typical, batch)
    _add_zigzag_windings(built, neutrals, transformers, frame)
    _block_neutrals(neutrals, transformers, typical, unknown_neutral(neutrals))


def _arrangements(
    built: ZeroSequence, neutrals: Neutrals, transformers: Transformers, typical: Typical, records: Records
) -> pd.DataFrame:
    """One row a transformer: point and role of each winding (wye, open, delta, none), and the core."""
    count = len(records.tables["transformer"])
    frame = pd.DataFrame({"row": np.arange(count)})
    points = neutrals.points.reset_index(names="point")
    points = points[points["asset_kind"] == "transformer"]
    unknown = unknown_neutral(neutrals)
    auto = np.zeros(count, dtype=bool)
    for winding in ("hv", "lv", "tv"):
        mine = points[points["winding"] == winding].set_index("row").reindex(range(count))
        point = mine["point"].fillna(-1).to_numpy(dtype=np.int64)
        connection = mine["connection"].astype(object).where(mine["connection"].notna(), "none").to_numpy(dtype=object)
        live = (point >= 0) & (np.where(point >= 0, built.point_node[point], FLOATING) != FLOATING)
        live |= (point >= 0) & unknown[point]
        role = np.select(
            [connection == "D", np.isin(connection.astype(str), ("YN", "Y")) & live, connection == "none"],
            ["delta", "wye", "none"],
            default="open",
        )
        frame[f"{winding}_point"], frame[winding], frame[f"{winding}_connection"] = point, role, connection
        if winding == "lv":
            auto = connection == "none"
    core = records.words("transformer", "core_form")
    frame["core"] = np.array([c or "unknown" for c in core], dtype=object)
    _float_open_neutrals(built, frame, auto)
    frame.loc[auto, "lv"] = frame.loc[auto, "hv"]
    frame.loc[auto, "lv_point"] = frame.loc[auto, "hv_point"]
    delta = (frame[["hv", "lv", "tv"]] == "delta").any(axis=1)
    wyes = (frame[["hv", "lv", "tv"]] == "wye").sum(axis=1)
    frame["arrangement"] = (
        frame["hv"] + " " + frame["lv"] + " " + frame["tv"] + " "
        + np.where(delta | (wyes == 0), "delta", np.where(frame["core"] == "three_limb", "three_limb", "plain"))
    )  # fmt: skip
    undecided = (
        transformers.usable & ~delta.to_numpy() & (wyes == 1).to_numpy() & (frame["core"] == "unknown").to_numpy()
    )
    frame["core_decides"] = undecided
    coupled = transformers.usable & ~delta.to_numpy() & (wyes > 1).to_numpy() & (frame["core"] == "unknown").to_numpy()
    if typical.policy.admits("core_form"):
        typical.ledger.assume(
            "transformer", coupled, "core_form", "no magnetizing path",
            "core not on record; between two grounded windings the magnetizing path carries little",
            {"zero": transformers.node[:, 0]},
        )  # fmt: skip
    else:
        frame["core_decides"] |= coupled
    return frame


def _float_open_neutrals(built: ZeroSequence, frame: pd.DataFrame, auto: Bools) -> None:
    """With its neutral open an auto-transformer with a delta, or a three-limb core, still passes current through."""
    balanced = (frame["tv"] == "delta") | (frame["core"] == "three_limb")
    floats = auto & ((frame["hv"] == "open") & balanced).to_numpy()
    built.point_node[frame.loc[floats, "hv_point"]] = built.network.add_nodes(int(floats.sum()))
    frame.loc[floats, "hv"] = "wye"


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
    unknown = unknown_neutral(neutrals)
    for w in wyes:
        doubtful = unknown[point[:, w]]
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
        unknown = unknown_neutral(neutrals)[point]
        add_unknown(built, point[unknown], transformers.node[rows, w][unknown])


def _block_neutrals(neutrals: Neutrals, transformers: Transformers, typical: Typical, unknown: Bools) -> None:
    """Ask how each neutral of which nothing is on record is treated."""
    points = neutrals.points
    for w, winding in enumerate(("hv", "lv", "tv")):
        mine = ((points["asset_kind"] == "transformer") & (points["winding"] == winding)).to_numpy() & unknown
        which = np.zeros(transformers.usable.size, dtype=bool)
        which[points.loc[mine, "row"].to_numpy(dtype=np.int64)] = True
        typical.ledger.block(
            "zero", "transformer", which & transformers.usable, f"{winding}_neutral", transformers.node[:, w]
        )
