"""What each bus puts on insulation and arresters: voltage to ground, sound and faulted, and for how long."""

import numpy as np

from groundcheck.policy import Policy
from groundcheck.store import Store
from groundcheck.study.ledger import Ledger
from groundcheck.study.records import Records

_FROM_POLICY = {
    "most_ratio": "range.most.highest_over_nominal",
    **{
        name: f"insulation.{name}"
        for name in ("highest_over_nominal", "brief_factor", "brief_time", "short_time_factor", "short_time")
    },
}


def assume_highest_voltage(records: Records, ledger: Ledger, policy: Policy) -> None:
    """Note the buses at which insulation or arresters stand and whose highest voltage is the policy's."""
    if not policy.admits("highest_voltage"):
        return
    which = np.zeros(len(records.bus), dtype=bool)
    for kind in ("insulation", "arrester"):
        at = records.bus_of(kind, "bus")
        which[at[at >= 0]] = True
    which &= np.isnan(records.numbers("bus", "highest_voltage"))
    kv = records.nominal_kv * policy["insulation.highest_over_nominal"]
    ledger.assume(
        "bus", which, "highest_voltage", np.array([f"{value:g} kV" for value in kv], dtype=object),
        "highest voltage not on record; ratio to nominal, common practice", {},
    )  # fmt: skip


def write_bus_stress(store: Store, policy: Policy) -> None:
    """Fill study.bus_stress from the buses on record, their zones and their faults in the maximum condition."""
    store.connection.execute(
        """
        INSERT INTO study.bus_stress BY NAME
        SELECT b.substation, b.bus, p.zone,
               b.nominal_voltage  AS nominal_kv,
               -- A highest voltage below the nominal one is not believed.
               CASE WHEN b.highest_voltage >= b.nominal_voltage THEN b.highest_voltage / b.nominal_voltage
                    WHEN b.highest_voltage IS NOT NULL OR $assumed THEN $highest_over_nominal END  AS ratio,
               if(b.highest_voltage >= b.nominal_voltage, ratio, 1)                              AS ratio_low,
               if(b.highest_voltage >= b.nominal_voltage, ratio, $most_ratio)                    AS ratio_high,
               b.nominal_voltage / sqrt(3) * ratio                  AS sound_kv,
               b.nominal_voltage / sqrt(3) * ratio_low              AS sound_kv_low,
               b.nominal_voltage / sqrt(3) * ratio_high             AS sound_kv_high,
               f.healthy_phase_kv * ratio                           AS healthy_kv,
               f.healthy_phase_kv_low * ratio_low                   AS healthy_kv_low,
               f.healthy_phase_kv_high * ratio_high                 AS healthy_kv_high,
               z.clearing_time_s                                    AS duration_s,
               z.clearing_time_s_low                                AS duration_s_low,
               z.clearing_time_s_high                               AS duration_s_high,
               CASE WHEN duration_s <= $brief_time THEN $brief_factor
                    WHEN duration_s <= $short_time THEN $short_time_factor
                    WHEN duration_s IS NOT NULL THEN 1 END           AS allowance,
               CASE WHEN duration_s_low <= $brief_time THEN $brief_factor
                    WHEN duration_s_low <= $short_time THEN $short_time_factor
                    WHEN duration_s_low IS NOT NULL THEN 1 END  AS allowance_at_low,
               CASE WHEN duration_s_high <= $brief_time THEN $brief_factor
                    WHEN duration_s_high <= $short_time THEN $short_time_factor
                    WHEN duration_s_high IS NOT NULL THEN 1 END  AS allowance_at_high,
               z.grounding_class,
               coalesce(f.provisional, FALSE) OR coalesce(z.provisional, FALSE)
                   OR (b.highest_voltage IS NULL AND ratio IS NOT NULL)  AS provisional
        FROM inventory.bus b
        LEFT JOIN study.zone_bus p ON p.substation = b.substation AND p.bus = b.bus
        LEFT JOIN study.zone z ON z.zone = p.zone
        LEFT JOIN study.bus_fault f ON f.substation = b.substation AND f.bus = b.bus AND f.condition = 'max'
        """,
        {name: policy[entry] for name, entry in _FROM_POLICY.items()} | {"assumed": policy.admits("highest_voltage")},
    )
