"""The cells behind the computed inputs of each finding."""

from groundcheck.audit.cells import cells_of
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.schema.stages.basis import BASIS_FIELDS
from groundcheck.store import Store

MOST_CELLS = 80  # of one finding; the nearest to its zone are kept

# The zone in which an asset that is asked about stands.
_ZONES = """
    SELECT 'bus' AS kind, substation, bus AS asset, zone FROM study.zone_bus
    UNION ALL SELECT 'zone', substation, zone, zone FROM study.zone
    UNION ALL SELECT asset_kind, substation, asset, zone FROM study.neutral
    UNION ALL SELECT 'neutral_device', substation, neutral_device, zone FROM study.neutral_duty
    UNION ALL SELECT 'grounding_transformer', substation, grounding_transformer, zone
              FROM study.grounding_transformer_duty
    UNION ALL SELECT 'ground_relay', substation, ground_relay, zone FROM study.relay_reach
    UNION ALL SELECT 'insulation', i.substation, i.insulation, p.zone
              FROM inventory.insulation i JOIN study.zone_bus p USING (substation, bus)
    UNION ALL SELECT 'arrester', a.substation, a.arrester, p.zone
              FROM inventory.arrester a JOIN study.zone_bus p USING (substation, bus)
    UNION ALL SELECT 'instrument_transformer', i.substation, i.instrument_transformer, p.zone
              FROM inventory.instrument_transformer i JOIN study.zone_bus p USING (substation, bus)
    UNION ALL SELECT 'ground_detector', d.substation, d.ground_detector, p.zone
              FROM inventory.ground_detector d JOIN study.zone_bus p USING (substation, bus)
    UNION ALL SELECT 'bond', d.substation, d.bond, p.zone
              FROM study.bond_duty d JOIN study.zone_bus p ON p.substation = d.fault_substation AND p.bus = d.fault_bus
    UNION ALL SELECT 'ground_grid', d.substation, d.ground_grid, p.zone
              FROM study.ground_grid_duty d
              JOIN study.zone_bus p ON p.substation = d.fault_substation AND p.bus = d.fault_bus
    UNION ALL SELECT 'ground_grid', d.substation, d.ground_grid, p.zone
              FROM study.grid_conductor_duty d
              JOIN study.zone_bus p ON p.substation = d.fault_substation AND p.bus = d.fault_bus
"""


def write_computed_from(store: Store) -> None:
    """
    Add to audit.evidence, for each finding with a computed input, the fields that its zone is computed from.

    They follow the rule's own inputs, what stands in the zone before what lies towards its supply.
    """
    run = store.connection.execute
    run(
        f"""
        CREATE OR REPLACE TEMP TABLE finding_zone AS
        SELECT DISTINCT f.finding, f.substation AS home, z.zone
        FROM audit.finding f
        JOIN ({_ZONES}) z ON z.kind = f.asset_kind AND z.substation = f.substation AND z.asset = f.asset
        WHERE EXISTS (FROM audit.evidence e WHERE e.finding = f.finding AND e.role = 'input' AND e.computed)
        """
    )
    run(f"CREATE OR REPLACE TEMP TABLE basis_value AS {' UNION ALL '.join(_values())}")
    run(
        f"""
        INSERT INTO audit.evidence BY NAME
        SELECT q.finding, 'basis' AS role, FALSE AS computed, 1000 + q.nearness AS position,
               v.kind || '.' || v.field AS input,
               if(v.substation <> q.home, v.substation || ':', '') || v.asset AS asset,
               v.value, v.unit, c.source_file, c.sheet, c.cell, c.found
        FROM (
            SELECT z.finding, z.home, v.kind, v.substation, v.asset, v.field,
                   row_number() OVER (PARTITION BY z.finding
                                      ORDER BY v.steps, v.substation <> z.home, v.kind, v.asset, v.place) AS nearness
            FROM finding_zone z JOIN basis_value v USING (zone)
            QUALIFY nearness <= {MOST_CELLS}
        ) q
        JOIN (SELECT DISTINCT kind, substation, asset, field, value, unit FROM basis_value) v
          USING (kind, substation, asset, field)
        LEFT JOIN ({cells_of("(SELECT DISTINCT kind, substation, asset, field FROM basis_value)")}) c
               ON c.kind = v.kind AND c.substation = v.substation AND c.asset = v.asset AND c.field = v.field
        WHERE NOT EXISTS (
            FROM audit.evidence e WHERE e.finding = q.finding AND e.input = v.kind || '.' || v.field
            AND e.asset = if(v.substation <> q.home, v.substation || ':', '') || v.asset)
        ORDER BY q.finding, q.nearness
        """
    )


def _values() -> list[str]:
    """One SELECT a field: its value wherever it is on record for a zone with a finding."""
    queries = []
    for kind, names in BASIS_FIELDS.items():
        columns = INVENTORY_TABLES[kind].columns()
        for place, name in enumerate(names):
            unit = columns[name].unit
            queries.append(
                f"""
                SELECT b.zone, '{kind}' AS kind, b.substation, b.asset, '{name}' AS field, {place} AS place, b.steps,
                       regexp_replace(t."{name}"::VARCHAR, '[.]0$', '') AS value,
                       {f"'{unit}'" if unit else "NULL::VARCHAR"} AS unit
                FROM study.zone_basis b
                JOIN inventory."{kind}" t ON t.substation = b.substation AND t."{kind}" = b.asset
                WHERE b.asset_kind = '{kind}' AND t."{name}" IS NOT NULL
                  AND b.zone IN (SELECT zone FROM finding_zone)
                """
            )
    return queries
