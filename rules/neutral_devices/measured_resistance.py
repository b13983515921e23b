"""Neutral resistors whose measured resistance has left that of the nameplate."""

from datetime import date

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NR1", "kind": "resistor", "resistance": 20.0}
TEST = {"substation": "ELM", "inspection": "I1", "asset": "NR1", "kind": "resistor_measurement", "unit": "ohm"}
OLD, NEW = date(2020, 5, 1), date(2024, 5, 1)


def inventory(*tests, tolerance=0.25, **fields):
    """A resistor of 20 ohm and what was measured at it."""
    return {"neutral_device": [DEVICE | fields], "inspection": tests, "policy": {"tolerance": tolerance}}


def measured(value, on=NEW, **fields):
    """One inspection."""
    return TEST | {"value": value, "date": on} | fields


RULE = Rule(
    title="The resistor measures other than its nameplate resistance",
    severity="medium",
    why="Too many ohms mean broken or corroded elements: the ground fault then passes less current than the relays are "
    "set for, and the next one may open the neutral. Too few mean shorted elements, which a fault overheats.",
    basis="IEEE C57.32, resistance tolerance 10 % at 25 degC (clause recalled)",
    asks="neutral_device",
    inputs=(
        "neutral_device.measured_resistance",
        "neutral_device.resistance",
        "inspection.value",
        "inspection.unit",
    ),
    policy={"tolerance": "neutral_device.measured_tolerance", "ohm_words": "neutral_device.ohm_words"},
    query="""
        WITH measured AS (
            SELECT substation, neutral_device, measured_resistance AS ohms, measured_on AS measured, NULL AS inspection
            FROM inventory.neutral_device WHERE measured_resistance IS NOT NULL
            UNION ALL
            -- What is in another unit than ohms measures something else.
            SELECT substation, asset, if(unit IS NULL, NULL, value), date, inspection
            FROM inventory.inspection
            WHERE kind = 'resistor_measurement' AND value IS NOT NULL
              AND coalesce(list_contains($ohm_words, lower(trim(unit))), TRUE)
        ),
        latest AS (
            FROM measured
            QUALIFY row_number() OVER (PARTITION BY substation, neutral_device
                                       ORDER BY measured DESC NULLS LAST, inspection NULLS FIRST) = 1
        )
        SELECT d.substation, 'neutral_device' AS asset_kind, d.neutral_device AS asset,
               m.ohms                                            AS actual,
               d.resistance                                      AS required,
               'ohm'                                             AS unit,
               abs(actual - required) <= $tolerance * required   AS ok,
               m.inspection, strftime(m.measured, '%Y-%m-%d') AS measured_on,
               100 * (actual / nullif(required, 0) - 1)          AS percent_off,
               100 * $tolerance                                  AS tolerance_percent,
               (1 - $tolerance) * required                       AS least_ohm,
               (1 + $tolerance) * required                       AS most_ohm,
               if(actual > required, 'broken or corroded', 'shorted') AS suspect,
               ['neutral_device.resistance', if(m.inspection IS NULL, NULL, 'inspection.unit')] AS needs
        FROM inventory.neutral_device d
        JOIN latest m USING (substation, neutral_device)
        WHERE d.kind = 'resistor'
    """,
    message="{asset} measured {actual} ohm against {required} ohm on its nameplate",
    formula="|R_measured / R_nameplate - 1| <= k",
    working="R_measured = {actual} ohm, on {measured_on}\n"
    "R_nameplate = {required} ohm\n"
    "R_measured / R_nameplate - 1 = {percent_off:+.1f} %\n"
    "allowed: plus or minus {tolerance_percent:g} %, {least_ohm} to {most_ohm} ohm",
    remedy="measure again at ambient temperature; outside {least_ohm} to {most_ohm} ohm look for {suspect} "
    "elements and joints, and replace them or the resistor",
    caution="Disconnect it only with its transformer dead or grounded otherwise: a neutral can rise to line-to-neutral "
    "voltage while a fault is on, and without its resistor the zone is ungrounded.",
    cannot_see="Does not know the temperature of the element: 100 degC warmer is 4 to 10 % more for the usual alloys. "
    "Takes the latest measurement on record; resistors that were never measured are another question.",
    examples={
        "satisfied: as on the nameplate": inventory(measured_resistance=20.0),
        "satisfied: exactly the tolerance above": inventory(measured_resistance=25.0),
        "satisfied: exactly the tolerance below": inventory(measured_resistance=15.0),
        "exception: above the tolerance": inventory(measured_resistance=25.1),
        "exception: below the tolerance": inventory(measured_resistance=14.9),
        "exception: within a wide tolerance, not within a narrow one": inventory(
            measured_resistance=23.0, tolerance=0.1
        ),
        "exception: an inspection says so": inventory(measured(30.0)),
        "satisfied: the inspection is the older one": inventory(
            measured(30.0, OLD), measured_resistance=20.0, measured_on=NEW
        ),
        "exception: the inspection is the later one": inventory(
            measured(30.0), measured_resistance=20.0, measured_on=OLD
        ),
        "exception: of two inspections, the later one": inventory(measured(20.0, OLD), measured(30.0, inspection="I2")),
        "satisfied: an inspection in kilohms is left out": inventory(
            measured(0.02, unit="kohm"), measured_resistance=20.0
        ),
        "exception: unit in capitals": inventory(measured(30.0, unit="Ohm")),
        "satisfied: an inspection of another kind": inventory(measured(30.0, kind="visual"), measured_resistance=20.0),
        "not assessable: unit of the measurement not on record": inventory(measured(30.0, unit=None)),
        "not assessable: nameplate resistance not on record": inventory(resistance=None, measured_resistance=20.0),
        "exception: a nameplate of no ohms": inventory(resistance=0.0, measured_resistance=20.0),
        "not applicable: never measured": inventory(measured(30.0, asset="NR2")),
        "not applicable: reactor": inventory(kind="reactor", measured_resistance=30.0),
    },
)
