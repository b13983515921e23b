"""Neutral devices insulated for less than the neutral rises to."""

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NR1", "kind": "resistor", "insulation_bil": 40.0}
OTHER = {"substation": "OAK", "neutral_device": "NL9", "kind": "solid", "insulation_bil": 40.0}
DUTY = {"substation": "ELM", "neutral_device": "NR1", "zone": "ELM:B1", "zone_kv": 11.0}  # 6.35 kV: class 7.2 kV, 40 kV


def inventory(insulation_bil=40.0, zone_kv=11.0, kind="resistor", above=1.0, district="North"):
    """A device in a zone, and one of another station that has its insulation on record."""
    return {
        "substation": [{"substation": "ELM", "district": "North"}, {"substation": "OAK", "district": district}],
        "neutral_device": [DEVICE | {"kind": kind, "insulation_bil": insulation_bil}, OTHER],
        "neutral_duty": [DUTY | {"zone_kv": zone_kv}],
        "policy": {"above": above},
    }


RULE = Rule(
    title="The neutral device is insulated for less than the neutral rises to",
    severity="medium",
    why="In a ground fault the live end of a resistor or coil stands at line-to-neutral voltage, and a surge on the "
    "lines reaches it through the winding. Insulated for less, it flashes over and shorts what limits the fault.",
    basis="IEC 60071-1, table 2, least lightning impulse withstand of each class voltage (recalled); IEEE C57.32, "
    "insulation class not below line-to-neutral voltage (recalled)",
    asks="neutral_device",
    inputs=("neutral_device.insulation_bil", "neutral_duty.zone_kv"),
    policy={
        "above": "neutral_device.insulation_from",
        "classes": "neutral_device.insulation_class",
        "bil": "neutral_device.insulation_bil",
    },
    query="""
        WITH device AS (
            SELECT d.substation, d.neutral_device, d.kind, d.insulation_bil, u.zone, u.zone_kv,
                   u.zone_kv / sqrt(3) AS neutral_kv,
                   bool_or(d.insulation_bil IS NOT NULL) OVER (PARTITION BY coalesce(s.district, d.substation)) AS kept
            FROM inventory.neutral_device d
            LEFT JOIN inventory.substation s USING (substation)
            LEFT JOIN study.neutral_duty u USING (substation, neutral_device)
        )
        SELECT substation, 'neutral_device' AS asset_kind, neutral_device AS asset, zone, 'kV' AS unit,
               len(list_filter($classes, lambda x: x < neutral_kv)) + 1 AS place,
               list_extract($classes, place)  AS class_kv,
               insulation_bil                 AS actual,
               if(zone_kv IS NULL, NULL, list_extract($bil, place)) AS required,
               actual >= required             AS ok,
               replace(kind, '_', ' ') AS kind, zone_kv, neutral_kv
        FROM device
        WHERE kind IN ('resistor', 'arc_suppression_coil', 'distribution_transformer')
          -- A district that has the insulation of no device on record keeps none.
          AND kept AND coalesce(zone_kv > $above AND neutral_kv <= list_max($classes), TRUE)
    """,
    message="{asset} ({kind}) has a BIL of {actual:g} kV; a neutral that rises to {neutral_kv} kV asks for "
    "{required:g} kV or more",
    formula="BIL >= BIL of the smallest class U_m >= V_LL / sqrt(3)",
    working="V_LL / sqrt(3) = {zone_kv:g} kV / sqrt(3) = {neutral_kv} kV\n"
    "smallest class: {class_kv:g} kV, BIL {required:g} kV\n"
    "BIL on record = {actual:g} kV",
    remedy="insulators of {required:g} kV BIL or more at the live end of {asset}, or an arrester across it that is "
    "coordinated with its insulation",
    caution="Isolate and prove dead first: a neutral can rise to line-to-neutral voltage while a fault is on.",
    cannot_see="Asks for the least that is standard; exposed overhead lines and the insulation of the winding's "
    "neutral end may ask for more. Reactors take a part of the voltage only and are left out.",
    examples={
        "satisfied: exactly the least of its class": inventory(),
        "exception: 39 kV": inventory(39.0),
        "satisfied: 75 kV": inventory(75.0),
        "exception: one class higher": inventory(40.0, 20.0),
        "satisfied: exactly its class voltage": inventory(40.0, 7.2 * 3**0.5),
        "exception: a coil": inventory(39.0, kind="arc_suppression_coil"),
        "exception: a distribution transformer": inventory(39.0, kind="distribution_transformer"),
        "satisfied: 325 kV at 110 kV": inventory(325.0, 110.0),
        "exception: just above low voltage": inventory(10.0, 1.1),
        "not assessable: not on record, its district keeps it": inventory(None),
        "not assessable: voltage of the zone not known": inventory(zone_kv=None),
        "not assessable: no duty computed": {"neutral_device": [DEVICE]},
        "not applicable: its district keeps none": {"neutral_device": [DEVICE | {"insulation_bil": None}]},
        "not applicable: another district does": inventory(None, district="South"),
        "not applicable: low voltage": inventory(10.0, above=11.0),
        "not applicable: above the classes": inventory(40.0, 400.0),
        "not applicable: reactor": inventory(39.0, kind="reactor"),
    },
)
