"""High-resistance grounding that passes less than the charging current of its zone."""

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NR1", "kind": "resistor"}
VOLTS = {"zone": "ELM:B1", "zone_kv": 3**0.5}  # 1000 V line to neutral: 1000 ohm pass 1 A
DUTY = DEVICE | VOLTS | {"resistance_ohm": 200.0, "charging_a": 5.0}
del DUTY["kind"]
ZONE = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1", "grounding_class": "high_resistance"}
SECOND = {"neutral_device": "NR2"}
COIL = {
    "zone": "ELM:B1",
    "substation": "ELM",
    "asset": "T2",
    "kind": "transformer",
    "treatment": "arc_suppression_coil",
}


def inventory(duty=DUTY, grounding_class="high_resistance", kind="resistor", margin=1.0, limit=25.0):
    """One resistor of 5 A in a zone that charges 5 A."""
    return {
        "neutral_device": [DEVICE | {"kind": kind}],
        "neutral_duty": [duty],
        "zone": [ZONE | {"grounding_class": grounding_class}],
        "policy": {"margin": margin, "high_resistance_current": limit},
    }


def pair(second_ohm, **options):
    """Two resistors in the zone, the first of 2 A."""
    duties = [DUTY | {"resistance_ohm": 500.0}, DUTY | SECOND | {"resistance_ohm": second_ohm}]
    return inventory(**options) | {"neutral_device": [DEVICE, DEVICE | SECOND], "neutral_duty": duties}


RULE = Rule(
    title="High-resistance grounding passes less than the zone's charging current",
    severity="medium",
    why="Below the charging current the resistor no longer damps the zone's capacitance: an arcing ground fault can "
    "then drive the phases to several times their voltage and break down sound equipment elsewhere.",
    basis="IEEE 142 and IEEE C62.92.2, resistor current not below 3I_C0 (clauses recalled)",
    asks="neutral_device",
    inputs=(
        "neutral_device.resistance",
        "neutral_device.kind",
        "neutral_duty.resistance_ohm",
        "neutral_duty.charging_a",
        "zone.grounding_class",
    ),
    policy={
        "margin": "neutral_device.charging_margin",
        "high_resistance_current": "grounding.high_resistance_current",
    },
    query="""
        WITH passed AS (
            SELECT d.substation, d.neutral_device, d.kind, u.zone, u.zone_kv, u.resistance_ohm, u.charging_a,
                   u.zone_kv * 1000 / sqrt(3) / nullif(u.resistance_ohm, 0) AS device_a,
                   coalesce(u.zone, d.substation || ':' || d.neutral_device) AS place
            FROM inventory.neutral_device d
            LEFT JOIN study.neutral_duty u USING (substation, neutral_device)
            WHERE d.kind IN ('resistor', 'distribution_transformer')
        ),
        together AS (
            -- What all resistors of the zone pass together, as far as it is known.
            SELECT p.*, z.grounding_class,
                   sum(device_a) OVER (PARTITION BY place) AS known_a,
                   if(count(device_a) OVER (PARTITION BY place) = count(*) OVER (PARTITION BY place), known_a, NULL)
                       AS zone_a,
                   CASE WHEN z.grounding_class = 'high_resistance' THEN TRUE
                        ELSE known_a <= $high_resistance_current END AS may_be_high_resistance
            FROM passed p
            LEFT JOIN study.zone z USING (zone)
            -- Beside a solid link, a reactor or a coil the resistor does not decide how the zone behaves.
            WHERE (z.grounding_class IN ('high_resistance', 'resistance') OR z.grounding_class IS NULL)
              AND NOT EXISTS (FROM study.ground_source g
                              WHERE g.zone = p.zone AND g.treatment = 'arc_suppression_coil')
        )
        SELECT substation, 'neutral_device' AS asset_kind, neutral_device AS asset, zone,
               coalesce(zone_a, known_a)  AS actual,
               charging_a * $margin       AS required,
               'A'                        AS unit,
               CASE WHEN grounding_class = 'high_resistance' AND known_a >= required THEN TRUE
                    WHEN grounding_class = 'high_resistance' OR zone_a <= $high_resistance_current
                    THEN zone_a >= required END AS ok,
               device_a, resistance_ohm, charging_a, zone_kv,
               zone_kv * 1000 / sqrt(3) / nullif(required, 0) AS ohms_needed,
               [if(kind = 'resistor' AND resistance_ohm IS NULL, 'neutral_device.resistance', NULL),
                'neutral_duty.resistance_ohm', 'neutral_duty.charging_a',
                if(zone_a IS NULL, NULL, 'zone.grounding_class')] AS needs
        FROM together
        WHERE may_be_high_resistance IS NOT FALSE
        -- One answer a zone: at a resistor of which the size is not known, else at the first.
        QUALIFY row_number() OVER (PARTITION BY place ORDER BY device_a IS NOT NULL, substation, neutral_device) = 1
    """,
    message="the resistors of zone {zone}, {asset} among them, pass {actual:.2f} A; the zone's charging current with "
    "margin is {required:.2f} A",
    working="{zone_kv:g} kV / sqrt(3) / {resistance_ohm:.0f} ohm = {device_a:.2f} A through {asset}, {actual:.2f} A in "
    "the zone; 3I_C0 = {charging_a:.2f} A x {margin:g} margin = {required:.2f} A",
    remedy="{ohms_needed:.0f} ohm or less in the neutral altogether, rated for the current that it then passes",
    caution="A lower resistance raises the fault current: check relays, damage at the fault and the rating first.",
    cannot_see="Where several resistors ground one zone, one of them carries the answer for all. Takes the whole zone "
    "with all its feeders in service, and capacitance as recorded.",
    examples={
        "exception: 4 A against 5 A": inventory(DUTY | {"resistance_ohm": 250.0}),
        "satisfied: exactly the charging current": inventory(),
        "satisfied: 10 A against 5 A": inventory(DUTY | {"resistance_ohm": 100.0}),
        "exception: charging current met, margin not": inventory(margin=1.2),
        "exception: distribution transformer": inventory(
            DUTY | {"resistance_ohm": 250.0}, kind="distribution_transformer"
        ),
        "exception: class not known, small enough": inventory(DUTY | {"resistance_ohm": 250.0}, None),
        "satisfied: class not known, exactly the charging current": inventory(grounding_class=None),
        "exception: exactly at the limit of high resistance": inventory(
            DUTY | {"resistance_ohm": 250.0}, None, limit=4.0
        ),
        "not applicable: above that limit, class not known": inventory(
            DUTY | {"resistance_ohm": 250.0}, None, limit=3.9
        ),
        "exception: above that limit, class known": inventory(DUTY | {"resistance_ohm": 250.0}, limit=3.9),
        "satisfied: two resistors together reach it": pair(250.0),
        "exception: two resistors together do not": pair(600.0),
        "not assessable: one of two resistors not on record": pair(None),
        "satisfied: the known one of two is enough": pair(None, margin=0.4),
        "not assessable: resistance not on record": inventory(DUTY | {"resistance_ohm": None}, "resistance"),
        "not assessable: charging current not known": inventory(DUTY | {"charging_a": None}),
        "not assessable: no duty computed": {"neutral_device": [DEVICE]},
        "not applicable: low-resistance zone": inventory(DUTY | {"resistance_ohm": 250.0}, "low_resistance"),
        "not applicable: a coil in the zone": inventory(DUTY | {"resistance_ohm": 250.0}) | {"ground_source": [COIL]},
        "exception: a coil in another zone": inventory(DUTY | {"resistance_ohm": 250.0})
        | {"ground_source": [COIL | {"zone": "OAK:B1"}]},
        "exception: another resistor in the zone": inventory(DUTY | {"resistance_ohm": 250.0})
        | {"ground_source": [COIL | {"treatment": "resistor"}]},
        "not applicable: reactor": inventory(DUTY | {"resistance_ohm": 250.0}, kind="reactor"),
    },
)
