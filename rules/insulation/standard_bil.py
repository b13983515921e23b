"""Impulse withstand below the lowest that is standard for the voltage."""

from groundcheck.audit import Rule

HERE = {"substation": "ELM", "bus": "B1"}
STRESS = HERE | {"zone": "ELM:B1", "nominal_kv": 11.0, "ratio": 1.0}
OAK = STRESS | {"substation": "OAK", "nominal_kv": 110.0}
PIECE = HERE | {"insulation": "SG1", "kind": "switchgear"}


def inventory(bil, nominal=11.0, ratio=(1.0, 1.0), kind="switchgear", **policy):
    """Insulation of this withstand at a bus of this voltage, whose highest voltage lies between two ratios to it."""
    stress = STRESS | {"nominal_kv": nominal, "ratio": None, "ratio_low": ratio[0], "ratio_high": ratio[1]}
    return {"insulation": [PIECE | {"bil": bil, "kind": kind}], "bus_stress": [stress, OAK], "policy": policy}


RULE = Rule(
    title="Lightning impulse withstand is below the lowest standard one for the voltage",
    severity="medium",
    why="A surge that the arresters let pass for sound equipment of this voltage breaks it down, and a fault inside "
    "metal-clad plant or a tank can burst it. Or the record is wrong, and whoever checks the arresters' margin by it "
    "is misled.",
    basis="IEC 60071-1, tables 2 and 3; IEEE C57.12.00 and C37.06; machines: IEC 60034-15 (all recalled)",
    asks="insulation",
    inputs=("insulation.bil", "insulation.kind", "bus.nominal_voltage", "bus.highest_voltage"),
    policy={
        "iec_bil": "insulation.iec_bil",
        "ieee_bil": "insulation.ieee_bil",
        "bil_from": "insulation.bil_from",
        "slope": "insulation.machine_bil_slope",
        "base": "insulation.machine_bil_base",
    },
    formula="BIL >= min {BIL_standard : U_m >= U_max}; windings also BIL >= 4 U_n + 5 kV if that is less",
    query="""
        WITH asked AS (
            SELECT i.*, s.* EXCLUDE (substation, bus),
                   list_concat($iec_bil, $ieee_bil)                      AS standard,
                   s.nominal_kv * coalesce(s.ratio, s.ratio_low)         AS least_um,
                   s.nominal_kv * coalesce(s.ratio, s.ratio_high)        AS most_um,
                   -- A winding may be a machine's, which has less.
                   if(i.kind = 'winding', $slope * s.nominal_kv + $base, NULL) AS machine_bil
            FROM inventory.insulation i LEFT JOIN study.bus_stress s
                   ON s.substation || ':' || s.bus = if(contains(i.bus, ':'), i.bus, i.substation || ':' || i.bus)
            WHERE s.nominal_kv IS NULL OR most_um > $bil_from
        ),
        wanted AS (
            SELECT *,
                   list_min([pair[2] FOR pair IN standard IF pair[1] >= least_um])  AS least_listed,
                   list_min([pair[2] FOR pair IN standard IF pair[1] >= most_um])  AS most_listed,
                   if(least_listed IS NULL, NULL, least(least_listed, machine_bil)) AS least_bil,
                   if(most_listed IS NULL, NULL, least(most_listed, machine_bil))   AS most_bil
            FROM asked
        )
        SELECT substation, 'insulation' AS asset_kind, insulation AS asset, bus, kind,
               -- What may be low voltage is no exception.
               CASE WHEN bil >= most_bil THEN TRUE WHEN bil < least_bil AND least_um > $bil_from THEN FALSE END AS ok,
               bil                                   AS actual,
               if(ok IS FALSE, least_bil, most_bil)  AS required,
               'kV'                                  AS unit,
               least_bil AS required_low, most_bil AS required_high,
               if(ok IS FALSE, least_um, most_um)    AS highest_kv,
               if(required = machine_bil, printf('; a machine of %.4g kV: %g x %.4g kV + %g kV = %.4g kV', nominal_kv,
                                                 $slope, nominal_kv, $base, machine_bil), '') AS machine,
               if(ok IS FALSE, least_listed, most_listed) AS listed_kv,
               ['insulation.bil', 'bus.nominal_voltage', if(least_um < most_um, 'bus.highest_voltage', NULL)] AS needs
        FROM wanted
        -- Beyond the list there is nothing to go by.
        WHERE nominal_kv IS NULL OR least_listed IS NOT NULL
    """,
    message="{asset} ({kind}) at bus {bus} has an impulse withstand of {actual:g} kV; the lowest standard one for "
    "{highest_kv} kV is {required} kV",
    working="highest voltage of the bus: {highest_kv} kV\n"
    "lowest standard withstand at that or a higher voltage for equipment: {listed_kv:g} kV{machine}\n"
    "on record: {actual:g} kV < {required} kV",
    remedy="read the nameplate; if it says {actual:g} kV, equipment of {required} kV or more, or arresters whose "
    "protective level leaves it a margin, proved by an insulation coordination study",
    caution="Equipment of unknown withstand can fail violently in a surge: keep away from it in a thunderstorm.",
    cannot_see="Asks for the lowest of the standard values, which needs arresters close by; whether they protect it is "
    "not weighed. Insulation that may only stand in a solidly grounded system, or behind arresters, may have less.",
    examples={
        # IEC 60071-1, table 2 (recalled): Um 12 kV: 60, 75 or 95 kV; 36 kV: 145 or 170 kV; 123 kV: 450 or 550 kV.
        "satisfied: 12 kV, exactly 60 kV": inventory(60.0, ratio=(12 / 11, 12 / 11)),
        "exception: 12 kV, 59 kV": inventory(59.0, ratio=(12 / 11, 12 / 11)),
        "satisfied: 36 kV, exactly 145 kV": inventory(145.0, 36.0),
        "exception: 36 kV, 125 kV": inventory(125.0, 36.0),
        "exception: 123 kV, 350 kV": inventory(350.0, 123.0),
        # IEEE C57.12.00 (recalled): 25 kV class 125 or 150 kV, 115 kV (121) 350 to 550 kV.
        "satisfied: 26.2 kV, 125 kV of the 25 kV class": inventory(125.0, 26.2),
        "satisfied: 121 kV, exactly 350 kV": inventory(350.0, 121.0),
        # IEC 60034-15 (recalled): 4 x 11 kV + 5 kV = 49 kV.
        "satisfied: stator of 11 kV, exactly 49 kV": inventory(49.0, kind="winding"),
        "exception: stator of 11 kV, 48 kV": inventory(48.0, kind="winding"),
        "exception: stator of 11 kV, by an owner's base": inventory(49.0, kind="winding", base=6.0),
        "satisfied: winding of a transformer, 110 kV": inventory(450.0, 123.0, kind="winding"),
        "satisfied: highest voltage not on record, enough for both": inventory(75.0, 12.0, (1.0, 1.2)),
        "exception: highest voltage not on record, too low for both": inventory(59.0, 12.0, (1.0, 1.2)),
        "not assessable: highest voltage not on record and it decides": inventory(74.0, 12.0, (1.0, 1.2)),
        "not assessable: exactly the lower of the two": inventory(60.0, 12.0, (1.0, 1.2)),
        "not assessable: may be low voltage": inventory(5.0, 0.9, (1.0, 1.2)),
        "exception: just not low voltage": inventory(5.0, 1.01),
        "not assessable: lowest voltage exactly that of low voltage": inventory(5.0, 1.0, (1.0, 1.2)),
        "not assessable: may be above all that is listed": inventory(1800.0, 750.0, (1.0, 1.2)),
        "not assessable: withstand not on record": inventory(None),
        "not applicable: above all that is listed": inventory(2000.0, 1000.0),
        "not assessable: its bus is not on record": {"insulation": [PIECE | {"bil": 75.0}]},
        "not applicable: low voltage": inventory(5.0, 0.4),
        "not applicable: exactly the limit of low voltage": inventory(5.0, 1.0),
    },
)
