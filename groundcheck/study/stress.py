"""What each bus puts on insulation and arresters: voltage to ground, sound and faulted, and for how long."""

from groundcheck.policy import Policy
from groundcheck.store import Store

_FROM_POLICY = ("highest_over_nominal", "brief_factor", "brief_time", "short_time_factor", "short_time")


def write_bus_stress(store: Store, policy: Policy) -> None:
    """Fill study.bus_stress from the buses on record, their zones and their faults in the maximum condition."""
    store.connection.execute(
        """
        INSERT INTO study.bus_stress BY NAME
        SELECT b.substation, b.bus, p.zone,
               b.nominal_voltage  AS nominal_kv,
               -- A highest voltage below the nominal one is not believed.
               CASE WHEN b.highest_voltage >= b.nominal_voltage THEN b.highest_voltage / b.nominal_voltage
                    ELSE $highest_over_nominal END  AS ratio,
               b.nominal_voltage / sqrt(3) * ratio  AS sound_kv,
               f.healthy_phase_kv * ratio           AS healthy_kv,
               coalesce(f.healthy_phase_kv, f.healthy_phase_kv_low) * ratio   AS healthy_kv_low,
               coalesce(f.healthy_phase_kv, f.healthy_phase_kv_high) * ratio  AS healthy_kv_high,
               CASE WHEN z.continuity_required THEN 'infinity'::DOUBLE
                    ELSE coalesce(z.clearing_time_s, 0) END                     AS duration_s_low,
               CASE WHEN z.continuity_required THEN 'infinity'::DOUBLE
                    ELSE coalesce(z.clearing_time_s, 'infinity'::DOUBLE) END    AS duration_s_high,
               CASE WHEN duration_s_low <= $brief_time THEN $brief_factor
                    WHEN duration_s_low <= $short_time THEN $short_time_factor ELSE 1 END   AS allowance_at_low,
               CASE WHEN duration_s_high <= $brief_time THEN $brief_factor
                    WHEN duration_s_high <= $short_time THEN $short_time_factor ELSE 1 END  AS allowance_at_high,
               z.grounding_class,
               coalesce(f.provisional, FALSE) OR coalesce(z.provisional, FALSE) AS provisional
        FROM inventory.bus b
        LEFT JOIN study.zone_bus p ON p.substation = b.substation AND p.bus = b.bus
        LEFT JOIN study.zone z ON z.zone = p.zone
        LEFT JOIN study.bus_fault f ON f.substation = b.substation AND f.bus = b.bus AND f.condition = 'max'
        """,
        {name: policy[f"insulation.{name}"] for name in _FROM_POLICY},
    )
