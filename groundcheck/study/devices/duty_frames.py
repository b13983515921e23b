"""Duties of neutral devices and grounding transformers as frames, for the topics that build on them."""

import numpy as np
import pandas as pd

from groundcheck.study.context import Study
from groundcheck.study.devices.duty_tables import duty_table, grounding_transformer_table


def device_duties(study: Study) -> pd.DataFrame:
    """study.neutral_duty, in the order of the records."""
    return duty_table(study.records, study.neutrals, study.readings, study.durations, study.zones, study.policy)


def transformer_duties(study: Study) -> pd.DataFrame:
    """study.grounding_transformer_duty, in the order of the records."""
    found = grounding_transformer_table(
        study.records, study.neutrals, study.readings, study.durations, study.zone_of_point, study.zones
    )
    points = study.neutrals.points
    row = points.loc[points["asset_kind"] == "grounding_transformer", "row"].to_numpy(dtype=np.int64)
    return found.iloc[np.argsort(row)].reset_index(drop=True)
