"""Every neutral point of the fleet, and the devices that stand in it."""

from dataclasses import dataclass
from functools import partial

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import connected
from groundcheck.policy import Policy
from groundcheck.schema import parse_vector_group
from groundcheck.study.ledger import Ledger
from groundcheck.study.records import Records, index_of

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]
Complexes = NDArray[np.complex128]
WINDINGS = ("hv", "lv", "tv")
CARRIES_CURRENT = ("solid", "resistor", "reactor", "arc_suppression_coil", "distribution_transformer")
# Of several devices in one neutral the lowest impedance decides what it is called.
STRENGTH = {"solid": 0, "reactor": 1, "resistor": 2, "distribution_transformer": 3, "arc_suppression_coil": 4,
            "surge_arrester": 5, "open": 6}  # fmt: skip


@dataclass(frozen=True)
class Neutrals:
    """
    Points and devices.

    points : one row a winding: asset_kind, row (position in that table), winding, connection, has_neutral (1, 0, NaN),
        group (-1: no device on record), treatment (None: not on record).
    devices : one row a device: group, kind.
    z_device : impedance of each device in ohm; NaN where not on record.
    unknown : points that have, or may have, a neutral of which no treatment is on record.
    """

    points: pd.DataFrame
    device_group: Ints
    z_device: Complexes
    links: pd.DataFrame
    group_count: int
    unknown: Bools


def find_neutrals(records: Records, ledger: Ledger, policy: Policy) -> Neutrals:
    """List the neutral points, join the devices to them, and say how each is treated."""
    points = _points(records)
    links = _links(records, ledger, points)
    device_count = len(records.tables["neutral_device"])
    group, group_count = _groups(len(points), device_count, links)
    kinds = records.words("neutral_device", "kind")
    strongest = (
        links.assign(strength=[STRENGTH[kinds[d]] for d in links["device"]], kind=kinds[links["device"]])
        .sort_values(["strength", "device"])
        .drop_duplicates("point")
        .set_index("point")
    )
    points["treatment"] = strongest["kind"].reindex(range(len(points))).astype(object)
    points["device"] = strongest["device"].reindex(range(len(points))).fillna(-1).to_numpy(dtype=np.int64)
    points["group"] = group[: len(points)]
    own = points["treatment"].isna() & (points["asset_kind"] == "grounding_transformer")
    if policy.admits("grounding_transformer_neutral"):
        _assume_solid_grounding_transformers(records, ledger, points, own.to_numpy(dtype=bool))
    _assume_brought_out(records, ledger, points)
    possible = (points["has_neutral"] == 1.0) | (points["connection"] == "?")
    unknown = (points["treatment"].isna() & possible).to_numpy(dtype=bool)
    return Neutrals(points, group[len(points) :], device_impedance(records, policy), links, group_count, unknown)


def _points(records: Records) -> pd.DataFrame:
    rows: list[tuple[str, int, str | None, str, float]] = []
    for row, text in enumerate(records.words("transformer", "vector_group")):
        group = parse_vector_group(text)
        for winding in WINDINGS:
            connection = group.connection(winding)
            if connection is None or (connection == "A" and winding == "lv"):
                continue  # an auto-transformer has one neutral, listed at its HV winding
            has = float(connection in ("YN", "ZN", "A"))  # IEC 60076-1: N or n is a neutral brought out
            rows.append(("transformer", row, winding, connection, has))
    for row, winding_word in enumerate(records.words("generator", "winding")):
        connection = {"wye": "YN", "delta": "D"}.get(winding_word or "", "?")
        rows.append(("generator", row, None, connection, {"YN": 1.0, "D": 0.0}.get(connection, np.nan)))
    grounding = range(len(records.tables["grounding_transformer"]))
    rows.extend(("grounding_transformer", row, None, "ZN", 1.0) for row in grounding)
    return pd.DataFrame(rows, columns=["asset_kind", "row", "winding", "connection", "has_neutral"])


def _links(records: Records, ledger: Ledger, points: pd.DataFrame) -> pd.DataFrame:
    """Which device stands in which point; a device that names no winding goes where the vector group has a neutral."""
    mentions = records.references
    mentions = mentions[(mentions["asset_kind"] == "neutral_device") & (mentions["field"] == "connected_to")]
    frame = records.tables["neutral_device"]
    device = index_of(frame, "neutral_device").get_indexer(pd.MultiIndex.from_frame(mentions[["substation", "asset"]]))
    row = np.full(len(mentions), -1, dtype=np.int64)
    for kind in ("transformer", "generator", "grounding_transformer"):
        of_kind = (mentions["target_kind"] == kind).to_numpy()
        targets = pd.MultiIndex.from_frame(mentions.loc[of_kind, ["target_substation", "target"]])
        row[of_kind] = index_of(records.tables[kind], kind).get_indexer(targets)
    winding = records.words("neutral_device", "winding")
    wanted = pd.DataFrame({"device": device, "asset_kind": mentions["target_kind"].to_numpy(dtype=object), "row": row})
    wanted = wanted[(wanted["device"] >= 0) & (wanted["row"] >= 0)].drop_duplicates()
    wanted["named"] = [winding[d] for d in wanted["device"]]
    # An auto-transformer's only neutral is listed at HV, whichever winding the record names.
    pairs = wanted.merge(points.reset_index(names="point"), on=["asset_kind", "row"], how="left")
    auto = auto_rows(records)
    alone = (pairs["asset_kind"] != "transformer") | pairs["row"].isin(auto)
    matches = alone | pairs["named"].isna() | (pairs["named"] == pairs["winding"])
    pairs = pairs[matches & pairs["point"].notna()].copy()
    # Of the windings of a device that names none: one with a neutral, then a wye, then LV before HV before TV.
    neutral_first = np.select([pairs["has_neutral"] == 1.0, pairs["has_neutral"] == 0.0], [0, 20], default=10)
    pairs["rank"] = neutral_first + winding_order(pairs["winding"])
    pairs = pairs.sort_values(["device", "asset_kind", "row", "rank"])
    guessed = pairs["named"].isna() & ~alone.reindex(pairs.index)
    neutral_choices = pairs[guessed & (pairs["has_neutral"] == 1.0)]
    several = neutral_choices[neutral_choices.duplicated(["device", "row"])]
    chosen = pairs.drop_duplicates(["device", "asset_kind", "row"])
    doubtful = np.zeros(len(frame), dtype=bool)
    doubtful[several["device"]] = True
    values = np.full(len(frame), "", dtype=object)
    values[chosen["device"]] = chosen["winding"].fillna("").to_numpy(dtype=object)
    ledger.assume(
        "neutral_device", doubtful, "winding", values, "the transformer has several neutrals and the record names none",
        {},
    )  # fmt: skip
    return chosen[["device", "point"]].astype({"point": np.int64}).reset_index(drop=True)


def winding_order(winding: pd.Series) -> Ints:
    """LV before HV before TV."""
    return np.select([winding == "hv", winding == "tv"], [1, 2], default=0)


def auto_rows(records: Records) -> list[int]:
    """Transformers that are auto-transformers."""
    return [
        row
        for row, text in enumerate(records.words("transformer", "vector_group"))
        if parse_vector_group(text).lv == "A"
    ]


def _groups(point_count: int, device_count: int, links: pd.DataFrame) -> tuple[Ints, int]:
    """Points and devices that share a neutral, numbered together; -1 where a point has no device."""
    total = point_count + device_count
    label = connected(total, links["point"].to_numpy(), point_count + links["device"].to_numpy())
    linked = np.zeros(total, dtype=bool)
    linked[links["point"]] = True
    linked[point_count + links["device"].to_numpy()] = True
    numbers = np.full(total, -1, dtype=np.int64)
    _, numbers[linked] = np.unique(label[linked], return_inverse=True)
    return numbers, int(numbers.max()) + 1 if total else 0


def point_buses(records: Records, transformer_bus: Ints, neutrals: Neutrals) -> Ints:
    """
    Bus of each neutral point, -1 where it is not on record.

    transformer_bus : buses of HV, LV and TV, shape (n, 3).
    """
    points = neutrals.points
    row = points["row"].to_numpy(dtype=np.int64)
    kind = points["asset_kind"].to_numpy(dtype=object)
    winding = np.select([points["winding"] == "lv", points["winding"] == "tv"], [1, 2], default=0)
    bus = np.full(len(points), -1, dtype=np.int64)
    at = kind == "transformer"
    bus[at] = transformer_bus[row[at], winding[at]]
    for name in ("generator", "grounding_transformer"):
        bus[kind == name] = records.bus_of(name, "bus")[row[kind == name]]
    return bus


def device_impedance(records: Records, policy: Policy) -> Complexes:
    """Impedance of each neutral device in its neutral; NaN where not on record, infinite where it carries nothing."""
    number = partial(records.numbers, "neutral_device")
    kind = records.words("neutral_device", "kind")
    assumes = policy.admits("neutral_device_ohms")
    nameplate = nameplate_ohm(records) if assumes else np.full(kind.size, np.nan)
    resistance, reactance = number("resistance"), number("reactance")
    of_reactor = np.nan_to_num(resistance) if assumes else resistance
    with np.errstate(invalid="ignore", divide="ignore"):
        referred = number("secondary_resistance") * (number("primary_voltage") / number("secondary_voltage")) ** 2
    choices = {
        "solid": np.zeros(kind.size, dtype=complex),
        "resistor": np.where(np.isnan(resistance), nameplate, resistance) + 0j,
        "reactor": of_reactor + 1j * np.where(np.isnan(reactance), nameplate, reactance),
        "arc_suppression_coil": of_reactor + 1j * np.where(np.isnan(reactance), nameplate, reactance),
        "distribution_transformer": np.where(np.isnan(referred), resistance, referred) + 0j,
        "surge_arrester": np.full(kind.size, np.inf, dtype=complex),
        "open": np.full(kind.size, np.inf, dtype=complex),
    }
    return np.select([kind == k for k in choices], list(choices.values()), default=np.nan + 0j)


def nameplate_ohm(records: Records) -> NDArray[np.float64]:
    """Rated voltage over rated current of each neutral device."""
    number = partial(records.numbers, "neutral_device")
    return np.asarray(number("rated_voltage") * 1e3 / number("rated_current"), dtype=np.float64)


def _assume_solid_grounding_transformers(
    records: Records, ledger: Ledger, points: pd.DataFrame, own: NDArray[np.bool_]
) -> None:
    """A grounding transformer without a device in its neutral is taken as connected to the mat."""
    rows = points.loc[own, "row"].to_numpy(dtype=np.int64)
    which = np.zeros(len(records.tables["grounding_transformer"]), dtype=bool)
    which[rows] = True
    points.loc[own, "treatment"] = "solid"
    ledger.assume(
        "grounding_transformer", which, "neutral", "solid link",
        "no device in its neutral on record; a grounding transformer is customarily connected to the mat", {},
    )  # fmt: skip


def _assume_brought_out(records: Records, ledger: Ledger, points: pd.DataFrame) -> None:
    """A device in the neutral of a Y or Z winding: the record contradicts itself, and the study believes the device."""
    odd = points["treatment"].notna() & points["connection"].isin(["Y", "Z"]) & (points["treatment"] != "open")
    which = np.zeros(len(records.tables["transformer"]), dtype=bool)
    which[points.loc[odd, "row"].to_numpy(dtype=np.int64)] = True
    ledger.assume(
        "transformer", which, "vector_group", "neutral brought out",
        "a device is recorded in the neutral of a winding whose letter shows none brought out", {},
    )  # fmt: skip
