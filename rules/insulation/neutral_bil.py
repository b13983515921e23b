"""Neutral ends of windings that a ground fault raises beyond their insulation."""

from groundcheck.audit import Rule

POINT = {"substation": "ELM", "asset_kind": "transformer", "asset": "T1", "winding": "hv", "connection": "YN",
         "has_neutral": True, "bus": "B1", "zone": "ELM:B1"}  # fmt: skip
LV = POINT | {"winding": "lv", "treatment": "solid", "neutral_device": "X"}


def inventory(bil, treatment="open", shift=(24.0, 24.0), ratio=(1.0, 1.0), duty=(None, None), **point):
    """A transformer of this withstand, what stands in its HV neutral, and the shift of its bus between two bounds."""
    station = {"substation": "ELM"}
    bus = station | {"bus": "B1"}
    fault = bus | {"condition": "max", "neutral_shift_kv_low": shift[0], "neutral_shift_kv_high": shift[1]}
    device = {"device_substation": "ELM", "neutral_device": "N1"}
    return {
        "transformer": [station | {"transformer": "T1", "neutral_bil": bil, "vector_group": "YNd1"}],
        "neutral": [POINT | device | {"treatment": treatment} | point, LV, LV | {"asset_kind": "generator"}],
        "bus_stress": [bus | {"ratio_low": ratio[0], "ratio_high": ratio[1]}],
        "bus_fault": [fault, fault | {"condition": "min", "neutral_shift_kv_low": 99.0, "neutral_shift_kv_high": 99.0}],
        "neutral_duty": [station | {"neutral_device": "N1", "voltage_kv_low": duty[0], "voltage_kv_high": duty[1]}],
    }  # fmt: skip


RULE = Rule(
    title="The neutral's impulse withstand is too low for the voltage that a ground fault puts on it",
    severity="high",
    why="A neutral that is not solidly grounded takes the zero-sequence voltage of every ground fault, and surges on "
    "top of it. Neutral insulation made for less breaks down inside the tank.",
    basis="IEEE C57.12.00 and IEC 60076-3, insulation of neutrals; IEC 60071-1, standard withstands (all recalled)",
    asks="transformer",
    inputs=(
        "transformer.neutral_bil",
        "transformer.hv_neutral",
        "transformer.vector_group",
        "bus.highest_voltage",
        "bus_fault.neutral_shift_kv",
        "neutral_duty.voltage_kv",
    ),
    policy={"iec_bil": "insulation.iec_bil", "ieee_bil": "insulation.ieee_bil"},
    formula="BIL_neutral >= min {BIL_standard : U_m >= V_N}, V_N = |V_0| U_max / U_n, or I_N Z_N U_max / U_n",
    query="""
        WITH point AS (
            SELECT n.substation, n.asset AS transformer, min(n.bus) AS bus, min(n.zone) AS zone,
                   min(n.connection) AS connection, string_agg(DISTINCT n.treatment, ', ') AS treatments,
                   CASE WHEN bool_or(n.treatment = 'solid') THEN 'solid'
                        WHEN bool_or(n.treatment NOT IN ('open', 'surge_arrester')) THEN 'impedance'
                        WHEN count(n.treatment) > 0 OR bool_and(n.has_neutral IS FALSE) THEN 'open' END AS treatment,
                   min(n.device_substation) AS neutral_device_substation, min(n.neutral_device) AS neutral_device,
                   -- Devices side by side have one voltage.
                   max(coalesce(d.voltage_kv, d.voltage_kv_low)) AS duty_low,
                   min(coalesce(d.voltage_kv, d.voltage_kv_high)) AS duty_high
            FROM study.neutral n
            LEFT JOIN study.neutral_duty d
                   ON (d.substation, d.neutral_device) = (n.device_substation, n.neutral_device)
            WHERE n.asset_kind = 'transformer' AND n.winding = 'hv' GROUP BY n.substation, n.asset
        ),
        seen AS (
            SELECT t.substation, t.transformer, t.neutral_bil, list_concat($iec_bil, $ieee_bil) AS standard,
                   p.* EXCLUDE (substation, transformer),
                   coalesce(s.ratio, s.ratio_low) AS ratio_low, coalesce(s.ratio, s.ratio_high) AS ratio_high,
                   coalesce(f.neutral_shift_kv, f.neutral_shift_kv_low) AS shift_low,
                   coalesce(f.neutral_shift_kv, f.neutral_shift_kv_high) AS shift_high,
                   -- What may yet prove grounded has no voltage that is sure.
                   CASE treatment WHEN 'impedance' THEN duty_low WHEN 'open' THEN shift_low END * ratio_low AS least_kv,
                   if(treatment = 'impedance', duty_high, shift_high) * ratio_high AS most_kv,
                   list_min([pair[2] FOR pair IN standard IF pair[1] >= least_kv]) AS least_bil,
                   list_min([pair[2] FOR pair IN standard IF pair[1] >= most_kv]) AS most_bil
            FROM inventory.transformer t
            LEFT JOIN point p USING (substation, transformer)
            LEFT JOIN study.bus_stress s
                   ON s.substation || ':' || s.bus = if(contains(p.bus, ':'), p.bus, t.substation || ':' || p.bus)
            LEFT JOIN study.bus_fault f ON f.substation = s.substation AND f.bus = s.bus AND f.condition = 'max'
            WHERE t.neutral_bil IS NOT NULL AND treatment IS DISTINCT FROM 'solid' AND connection IS DISTINCT FROM 'D'
        )
        SELECT substation, 'transformer' AS asset_kind, transformer AS asset, bus, zone, 'max' AS condition,
               'hv' AS winding, neutral_device, neutral_device_substation,
               CASE WHEN neutral_bil >= most_bil THEN TRUE WHEN neutral_bil < least_bil THEN FALSE END AS ok,
               neutral_bil AS actual, if(ok IS FALSE, least_bil, most_bil) AS required, 'kV' AS unit,
               least_bil AS required_low, most_bil AS required_high,
               if(ok IS FALSE, least_kv, most_kv) AS neutral_kv, if(ok IS FALSE, ratio_low, ratio_high) AS ratio,
               neutral_kv / ratio AS nominal_kv, coalesce(replace(treatments, '_', ' '), 'no device') AS in_neutral,
               ['transformer.hv_neutral', 'transformer.vector_group', if(ratio_low < ratio_high, 'bus.highest_voltage',
                NULL), if(treatment = 'impedance', 'neutral_duty.voltage_kv', 'bus_fault.neutral_shift_kv')] AS needs
        FROM seen
    """,
    message="{asset}: the HV neutral ({in_neutral}) has an impulse withstand of {actual:g} kV; a ground fault puts "
    "{neutral_kv} kV on it, for which {required:g} kV is the lowest standard",
    working="neutral voltage in a ground fault: {nominal_kv} kV x {ratio:.3f} highest / nominal voltage = "
    "{neutral_kv} kV\n"
    "lowest standard withstand at that or a higher voltage for equipment: {required:g} kV\n"
    "on record: {actual:g} kV < {required:g} kV",
    remedy="a solid ground at the HV neutral of {asset}, its effect on ground-fault currents studied; or an arrester "
    "at the neutral, proved by an insulation coordination study against {actual:g} kV",
    caution="A neutral that is not solidly grounded can rise to line-to-neutral voltage: isolate and prove dead first.",
    cannot_see="Weighs impulse withstand as a measure of the insulation, for faults with all sources in service; an "
    "arrester at the neutral is not credited.",
    examples={
        # IEC 60071-1, table 2 (recalled): Um 24 kV: 95 kV is the lowest, 36 kV: 145 kV.
        "satisfied: 24 kV, exactly 95 kV": inventory(95.0),
        "exception: 24 kV, 94 kV": inventory(94.0),
        "exception: 24 kV at highest voltage, 95 kV": inventory(95.0, shift=(22.0, 22.0), ratio=(1.1, 1.1)),
        # By hand: a neutral of 121 kV in an ungrounded zone sees 121 / sqrt(3) = 69.9 kV, the class of 72.5 kV: 325 kV.
        "exception: graded neutral, 95 kV, at 69.9 kV": inventory(95.0, shift=(69.9, 69.9)),
        "exception: an arrester only": inventory(94.0, "surge_arrester"),
        "satisfied: a resistor that takes less than the zone's shift": inventory(60.0, "resistor", duty=(12.0, 12.0)),
        "exception: a resistor that takes more than is borne": inventory(59.0, "resistor", duty=(12.0, 12.0)),
        "not assessable: a resistor, its voltage not computed": inventory(60.0, "resistor"),
        "not assessable: between the bounds": inventory(95.0, shift=(24.0, 24.1)),
        "not assessable: highest voltage not on record": inventory(95.0, shift=(22.0, 22.0), ratio=(1.0, 1.2)),
        "exception: below the lower bound": inventory(94.0, shift=(24.0, 24.1)),
        "not assessable: shift not computed": inventory(95.0, shift=(None, None)),
        "satisfied: treatment not on record, enough at its worst": inventory(95.0, None),
        "not assessable: treatment not on record": inventory(94.0, None),
        "exception: the neutral is not brought out": inventory(94.0, None, has_neutral=False, connection="Y"),
        "not applicable: solidly grounded": inventory(94.0, "solid"),
        "not applicable: a delta winding": inventory(94.0, None, has_neutral=False, connection="D"),
        "not applicable: withstand not on record": inventory(None),
    },
)
