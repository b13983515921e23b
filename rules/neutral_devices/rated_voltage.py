"""Neutral devices rated for less than the voltage that a ground fault puts across them."""

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NR1", "kind": "resistor", "rated_voltage": 8.0}
DUTY = {"substation": "ELM", "neutral_device": "NR1", "zone": "ELM:B1", "zone_kv": 8.0 * 3**0.5}


def inventory(kind="resistor", rated_voltage=8.0, duty=DUTY, margin=1.0):
    """One device in a zone of 8 kV line to neutral."""
    device = DEVICE | {"kind": kind, "rated_voltage": rated_voltage}
    return {"neutral_device": [device], "neutral_duty": [duty], "policy": {"margin": margin}}


RULE = Rule(
    title="Neutral device is rated below the voltage across it in a ground fault",
    severity="high",
    why="In a ground fault close by the whole line-to-neutral voltage stands across a resistor or an arc-suppression "
    "coil. Rated for less, it carries more than its rated current and its insulation may flash over.",
    basis="IEEE C57.32, rated voltage of neutral grounding devices: line-to-neutral for resistors, rated current x "
    "impedance for reactors (clauses recalled)",
    asks="neutral_device",
    inputs=("neutral_device.rated_voltage", "neutral_duty.zone_kv", "neutral_duty.voltage_kv"),
    policy={"margin": "neutral_device.voltage_margin"},
    query="""
        SELECT d.substation, 'neutral_device' AS asset_kind, d.neutral_device AS asset,
               d.rated_voltage                    AS actual,
               -- A low-impedance reactor takes a part of the voltage only; a resistor or a coil may take it all.
               CASE d.kind WHEN 'reactor' THEN u.voltage_kv
                           ELSE u.zone_kv / sqrt(3) END AS voltage_across_kv,
               voltage_across_kv * $margin        AS required,
               if(d.kind = 'reactor', u.voltage_kv_low * $margin, NULL)   AS required_low,
               if(d.kind = 'reactor', u.voltage_kv_high * $margin, NULL)  AS required_high,
               'kV'                               AS unit,
               actual >= required                 AS ok,
               d.kind, u.zone, u.zone_kv,
               ['neutral_device.rated_voltage',
                if(d.kind = 'reactor', 'neutral_duty.voltage_kv', 'neutral_duty.zone_kv')] AS needs
        FROM inventory.neutral_device d
        LEFT JOIN study.neutral_duty u USING (substation, neutral_device)
        WHERE d.kind IN ('resistor', 'reactor', 'arc_suppression_coil')
    """,
    message="{asset} ({kind}) is rated {actual} kV; a ground fault puts {voltage_across_kv} kV across it",
    formula="V_rated >= k V, V = V_LL / sqrt(3); V = I_n X for a reactor",
    working="V_LL = {zone_kv:g} kV, of zone {zone}\n"
    "V = {voltage_across_kv} kV across the device\n"
    "k V = {margin:g} x {voltage_across_kv} kV = {required} kV\n"
    "V_rated = {actual} kV, on the nameplate",
    remedy="a device rated {voltage_across_kv} kV or more",
    caution="Isolate and prove dead first: a neutral can rise to line-to-neutral voltage while a fault is on.",
    cannot_see="Uses nominal voltage; insulation of the live end (its impulse withstand) is another question.",
    examples={
        "exception: 7.9 kV where 8 kV may stand": inventory(rated_voltage=7.9),
        "satisfied: exactly the line-to-neutral voltage": inventory(rated_voltage=8.0 + 1e-9),
        "satisfied: 8.1 kV where 8 kV may stand": inventory(rated_voltage=8.1),
        "exception: rating met, margin not": inventory(rated_voltage=8.1, margin=1.05),
        "satisfied: a rounded nameplate": inventory(rated_voltage=7.95, margin=0.99),
        "exception: a coil": inventory("arc_suppression_coil", 7.9),
        "satisfied: a reactor at exactly the voltage across it": inventory("reactor", 2.0, DUTY | {"voltage_kv": 2.0}),
        "exception: a reactor below the voltage across it": inventory("reactor", 1.9, DUTY | {"voltage_kv": 2.0}),
        "not assessable: a reactor whose duty is not computed": inventory("reactor", 2.0),
        "not assessable: rating not on record": inventory(rated_voltage=None),
        "not assessable: voltage of the zone not known": inventory(duty=DUTY | {"zone_kv": None}),
        "not assessable: no duty computed": {"neutral_device": [DEVICE]},
        "not applicable: solid link": inventory("solid"),
    },
)
