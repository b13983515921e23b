"""The smallest and the largest ground-fault current of each relay, as a table."""

import numpy as np
import pandas as pd

from groundcheck.policy import Policy
from groundcheck.study.currents.reach import Measured, sees_voltage
from groundcheck.study.currents.readings import Readings, taken
from groundcheck.study.records import Records


def reach_table(
    records: Records,
    measured: Measured,
    readings: Readings,
    zones: pd.DataFrame,
    provisional: pd.Series,
    policy: Policy,
) -> pd.DataFrame:
    """
    The rows of study.relay_reach.

    provisional : of each zone, whether an assumed value stands behind its faults in the minimum condition.
    """
    station, tag = records.tags("ground_relay")
    voltage = sees_voltage(records, policy)
    names = zones["zone"].to_numpy(dtype=object)
    columns = {
        f"{name}_fault_a{end}": np.where(voltage, np.nan, values)
        for name, current in (("smallest", readings.relay_smallest), ("largest", readings.relay_largest))
        for end, values in (("", current.value), ("_low", current.low), ("_high", current.high))
    }
    return pd.DataFrame(
        {
            "substation": station,
            "ground_relay": tag,
            "quantity_kind": np.where(voltage, "voltage", "current"),
            **columns,
            "zone": [names[z] if z >= 0 else None for z in measured.zone],
            "provisional": np.asarray(taken(provisional.to_numpy(dtype=bool), measured.zone, False), dtype=bool),
        }
    )
