"""Buses whose ground-fault current exceeds what it is meant to be limited to."""

from groundcheck.audit import Rule

HERE = {"substation": "ELM", "bus": "B1"}
ZONE = {"zone": "ELM:B1"}
FAULT = HERE | {"condition": "max"}
SHARE = HERE | {"source_substation": "ELM", "source_kind": "transformer"}


def inventory(limit, currents=(1000.0, 1000.0), **policy):
    """A bus of 11 kV, two transformers that ground its zone, and its ground-fault current between two bounds."""
    low, high = (None if each is None else each / 1000 for each in currents)
    fault = FAULT | {"line_to_ground_ka_low": low, "line_to_ground_ka_high": high}
    return {
        "bus": [HERE | {"nominal_voltage": 11.0, "ground_fault_limit": limit}],
        "zone_bus": [HERE | ZONE],
        "zone": [HERE | ZONE | {"ground_sources": 2}],
        "bus_fault": [fault, FAULT | {"condition": "min", "line_to_ground_ka": 99.0}],
        "contribution": [SHARE | {"source": "T1", "current_a": 600.0}, SHARE | {"source": "T2", "current_a": None}],
        "policy": {"margin": 1.0} | policy,
    }


RULE = Rule(
    title="Ground-fault current exceeds what it is meant to be limited to",
    severity="high",
    why="Cable screens, machine cores, mats and neighbors' circuits were dimensioned for the intended current. "
    "Neutrals grounded in parallel add up: each keeps to its own rating, and the fault burns with the sum.",
    basis="common practice, no source",
    asks="bus",
    inputs=("bus.ground_fault_limit", "bus_fault.line_to_ground_ka", "zone.ground_sources"),
    policy={"margin": "return_path.intended_margin"},
    formula="I_LG <= k I_intended; R_total = U_n / (sqrt(3) I_intended), n R_total in each of n equal neutrals",
    query="""
        WITH share AS (
            SELECT substation, bus,
                   string_agg(source_substation || ':' || source || coalesce(printf(' %.0f A', current_a), ''), ', '
                              ORDER BY current_a DESC NULLS LAST, source_substation, source) AS sources
            FROM study.contribution
            GROUP BY substation, bus
        ),
        seen AS (
            SELECT b.substation, b.bus, b.ground_fault_limit AS intended_a, b.nominal_voltage AS nominal_kv,
                   z.zone, z.ground_sources, s.sources,
                   f.line_to_ground_ka_low * 1000                          AS low_a,
                   f.line_to_ground_ka_high * 1000                         AS high_a,
                   coalesce(f.line_to_ground_ka * 1000, low_a)             AS least_a,
                   coalesce(f.line_to_ground_ka * 1000, high_a)            AS most_a
            FROM inventory.bus b
            LEFT JOIN study.zone_bus p USING (substation, bus)
            LEFT JOIN study.zone z ON z.zone = p.zone
            LEFT JOIN share s ON s.substation = b.substation AND s.bus = b.bus
            LEFT JOIN study.bus_fault f ON f.substation = b.substation AND f.bus = b.bus AND f.condition = 'max'
            WHERE b.ground_fault_limit IS NOT NULL
        )
        SELECT substation, 'bus' AS asset_kind, bus AS asset, bus, zone, 'max' AS condition,
               CASE WHEN most_a <= intended_a * $margin THEN TRUE
                    WHEN least_a > intended_a * $margin THEN FALSE END AS ok,
               if(ok IS FALSE, least_a, most_a)              AS actual,
               intended_a * $margin                          AS required,
               'A'                                           AS unit,
               low_a AS actual_low, high_a AS actual_high,
               intended_a, ground_sources, nominal_kv,
               coalesce(sources, 'not on record')            AS sources,
               nominal_kv * 1000 / sqrt(3)                   AS ln_v,
               ln_v / intended_a                             AS total_ohm,
               total_ohm * ground_sources                    AS each_ohm,
               ['bus_fault.line_to_ground_ka']               AS needs
        FROM seen
    """,
    message="a ground fault at bus {asset} draws {actual} A, and is meant to be limited to {intended_a} A; "
    "{ground_sources:d} ground sources: {sources}",
    working="ground-fault current: {actual} A, from {sources}\n"
    "limit: {intended_a} A x {margin:g} margin = {required} A\n"
    "ohms that keep to it: {ln_v} V / {intended_a} A = {total_ohm} ohm in all\n"
    "{total_ohm} ohm x {ground_sources:d} sources = {each_ohm} ohm each",
    remedy="{each_ohm} ohm in each of the {ground_sources:d} neutrals, the largest first; or all but one of them "
    "open, and that one through {total_ohm} ohm; or the limit on record raised, all that relies on it checked",
    caution="Change neutrals only with their transformers out of service; a neutral opened under load can rise to "
    "line-to-neutral voltage.",
    cannot_see="Counts the charging current of the network as part of the fault; the ohms leave it and the source "
    "impedance out, and take the sources for equal.",
    examples={
        "satisfied: exactly the limit": inventory(1000.0),
        "exception: above it": inventory(999.0),
        "satisfied: below it": inventory(1100.0),
        "satisfied: within the margin": inventory(999.0, margin=1.1),
        "exception: two neutrals of 1000 A each": inventory(1000.0, (1995.0, 1995.0)),
        "satisfied: exactly the upper bound": inventory(1000.0, (900.0, 1000.0)),
        "exception: below the lower bound": inventory(899.0, (900.0, 1000.0)),
        "not assessable: exactly the lower bound": inventory(900.0, (900.0, 1000.0)),
        "not assessable: current not computed": inventory(1000.0, (None, None)),
        "exception: where it comes from is not computed": inventory(999.0) | {"contribution": []},
        "not applicable: no limit on record": inventory(None),
    },
)
