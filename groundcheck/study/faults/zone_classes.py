"""Grounding class from what grounds a zone and how far its healthy phases rise."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import classify_zone
from groundcheck.policy import Policy
from groundcheck.study.networks.neutrals import Neutrals
from groundcheck.study.records import Records

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
BY_INFEED = "grounded_by_infeed"


def classify_by_sources(
    records: Records,
    neutrals: Neutrals,
    definite: pd.DataFrame,
    cog_max: Floats,
    kv: Floats,
    known: Bools,
    policy: Policy,
) -> NDArray[np.object_]:
    """
    Grounding class from the sources that are surely there; their column `zone` numbers what is classified.

    A fault level does not tell what stands in the neutrals behind an infeed: what only infeeds ground is effectively
    grounded, or of a class of its own.
    """
    kinds = {
        # An open neutral is a source only where its auto-transformer passes on what grounds the other side.
        "solid": definite["treatment"].isin(["solid", "open", "surge_arrester"])
        & (definite["kind"] != "grounding_transformer"),
        "reactor": (definite["treatment"] == "reactor")
        | ((definite["treatment"] == "solid") & (definite["kind"] == "grounding_transformer")),
        "resistor": definite["treatment"].isin(["resistor", "distribution_transformer"]),
        "coil": definite["treatment"] == "arc_suppression_coil",
    }
    has = {name: marks_of(definite.loc[which, "zone"], kv.size) for name, which in kinds.items()}
    infeed = definite["kind"] == "infeed"
    only_infeeds = marks_of(definite.loc[infeed, "zone"], kv.size) & ~marks_of(definite.loc[~infeed, "zone"], kv.size)
    classes = classify_zone(
        cog_max, has["solid"], has["reactor"], has["resistor"], has["coil"],
        _resistive_current(records, neutrals, definite[kinds["resistor"]], kv),
        policy["grounding.high_resistance_current"], known, policy["grounding.effective_cog"],
    )  # fmt: skip
    classes[only_infeeds & np.isin(classes.astype(str), ("solid", "solid_not_effective"))] = BY_INFEED
    return classes


def deciding_cog(value: Floats, low: Floats, high: Floats, limit: float) -> Floats:
    """A coefficient of grounding; where not known, a bound of it that settles on which side of the limit it is."""
    bound = np.select([high <= limit, low > limit], [high, low], default=np.nan)
    return np.where(np.isnan(value), bound, value)


def marks_of(zones: pd.Series, count: int) -> Bools:
    """Which numbers, of so many, are among these."""
    marks = np.zeros(count, dtype=bool)
    marks[zones.to_numpy(dtype=np.int64)] = True
    return marks


def _resistive_current(records: Records, neutrals: Neutrals, resistors: pd.DataFrame, kv: Floats) -> Floats:
    """Sum of V_LN/R over the resistors of each zone; NaN if any is not on record."""
    group_of_point = neutrals.points["group"].to_numpy(dtype=np.int64)
    conductance = np.zeros(max(neutrals.group_count, 1))
    kinds = records.words("neutral_device", "kind")
    ohmic = np.isin(kinds.astype(str), ("resistor", "distribution_transformer")) & (neutrals.device_group >= 0)
    with np.errstate(divide="ignore", invalid="ignore"):
        np.add.at(conductance, neutrals.device_group[ohmic], 1 / neutrals.z_device.real[ohmic])
    pairs = resistors.assign(group=group_of_point[resistors["point"].to_numpy(dtype=np.int64)])
    pairs = pairs.drop_duplicates(["zone", "group"])
    total = np.zeros(kv.size)
    np.add.at(total, pairs["zone"].to_numpy(dtype=np.int64), conductance[pairs["group"].to_numpy(dtype=np.int64)])
    return np.asarray(kv * 1e3 / np.sqrt(3) * total, dtype=np.float64)
