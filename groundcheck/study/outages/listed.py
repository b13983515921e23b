"""Each ground source as something that may be out, and the sources that go with it."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.context import Study
from groundcheck.study.networks.neutrals import Neutrals, auto_rows

Ints = NDArray[np.int64]
Words = NDArray[np.object_]
KINDS = ("generator", "grounding_transformer", "infeed", "neutral_device", "transformer")


def asset_code(kind: str | Words, row: Ints) -> Ints:
    """One number for kind and row of an asset."""
    place = KINDS.index(kind) if isinstance(kind, str) else np.array([KINDS.index(each) for each in kind], np.int64)
    return np.asarray(place + len(KINDS) * row, dtype=np.int64)


def owners(neutrals: Neutrals) -> Ints:
    """Code of the asset whose winding each neutral point belongs to."""
    points = neutrals.points
    return asset_code(points["asset_kind"].to_numpy(dtype=object), points["row"].to_numpy(dtype=np.int64))


def list_outages(study: Study) -> pd.DataFrame:
    """
    One row an outage: kind, row and code of the asset, group of the neutral device (-1 for another kind).

    An asset goes with its positive-sequence branches; a neutral device opens, and leaves its machine in service.
    """
    sources = study.sources
    assets = sources[["kind", "row"]].drop_duplicates().assign(group=-1)
    z, group = study.neutrals.z_device, study.neutrals.device_group
    impedance = np.flatnonzero((group >= 0) & ~np.isinf(z) & (z != 0))
    carrying = _groups(study, sources[sources["definite"]])
    devices = pd.DataFrame({"kind": "neutral_device", "row": impedance, "group": group[impedance]})
    # Of two devices in one neutral, neither leaves it open.
    alone = ~pd.Series(group).duplicated(keep=False).to_numpy()[impedance]
    devices = devices[devices["group"].isin(carrying[carrying >= 0]) & alone]
    listed = pd.concat([assets, devices]).sort_values(["kind", "row"]).reset_index(drop=True)
    code = asset_code(listed["kind"].to_numpy(dtype=object), listed["row"].to_numpy(dtype=np.int64))
    return listed.assign(asset=code)


def taken_out(study: Study, outages: pd.DataFrame) -> pd.DataFrame:
    """Ground sources that each outage takes out: outage, number in study.sources, zone, definite."""
    sources = study.sources.reset_index(drop=True).rename_axis("source").reset_index()
    numbered = outages.rename_axis("outage").reset_index()
    own = sources.merge(numbered.loc[numbered["group"] < 0, ["outage", "kind", "row"]], on=["kind", "row"])
    held = sources.assign(group=_groups(study, sources))
    held = held[~held["point"].isin(passing_points(study))]
    held = held.merge(numbered.loc[numbered["group"] >= 0, ["outage", "group"]], on="group")
    # The other winding of a pair without a delta has nothing to pass its current on to.
    paired = sources[sources["point"].isin(_paired_points(study))]
    other = held[held["point"].isin(paired["point"])][["outage", "kind", "row"]].merge(paired, on=["kind", "row"])
    columns = ["outage", "source", "zone", "definite"]
    return pd.concat([own[columns], held[columns], other[columns]], ignore_index=True).drop_duplicates()


def passing_points(study: Study) -> Ints:
    """Neutrals of auto-transformers with a delta: opened, they still pass current from one side to the other."""
    own = [point for point, _, definite in study.zero.sources if definite]
    points = study.neutrals.points
    auto = np.flatnonzero((points["asset_kind"] == "transformer") & points["row"].isin(auto_rows(study.records)))
    return np.intersect1d(auto, np.concatenate([*own, np.zeros(0, dtype=np.int64)]))


def _paired_points(study: Study) -> Ints:
    """Neutrals of transformers with two grounded windings and no delta."""
    point = np.unique(np.concatenate([np.zeros(0, dtype=np.int64), *(point for point, _ in study.zero.coupled)]))
    row = study.neutrals.points["row"].to_numpy(dtype=np.int64)[point]
    return np.asarray(point[np.bincount(row)[row] == 2] if row.size else point, dtype=np.int64)


def tags_of(study: Study, outages: pd.DataFrame) -> pd.DataFrame:
    """Station, kind and tag of what is out, a row an outage."""
    station, tag = np.full(len(outages), None, dtype=object), np.full(len(outages), None, dtype=object)
    row = outages["row"].to_numpy(dtype=np.int64)
    for kind in outages["kind"].unique():
        mine = (outages["kind"] == kind).to_numpy()
        stations, tags = study.records.tags(str(kind))
        station[mine], tag[mine] = stations[row[mine]], tags[row[mine]]
    kinds = outages["kind"].to_numpy(dtype=object)
    return pd.DataFrame({"source_substation": station, "source_kind": kinds, "source": tag})


def _groups(study: Study, sources: pd.DataFrame) -> Ints:
    """Group of the neutral through which each source is grounded; -1 where it has none."""
    point = sources["point"].to_numpy(dtype=np.int64)
    group = study.neutrals.points["group"].to_numpy(dtype=np.int64)
    return np.where(point >= 0, group[point], -1) if group.size else np.full(point.shape, -1, dtype=np.int64)
