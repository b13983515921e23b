"""High-resistance grounding that passes less than the charging current of its zone."""

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NR1"}
NR2 = {"neutral_device": "NR2"}
DUTY = DEVICE | {"zone": "ELM:B1", "zone_kv": 3**0.5}  # 1000 V line to neutral: 1000 ohm pass 1 A
COIL = {"zone": "ELM:B1", "asset": "T2", "treatment": "arc_suppression_coil"}


def inventory(ohms=250.0, of="high_resistance", kind="resistor", margin=1.0, limit=25.0, charging=5.0, beside=None):
    """One resistor, of 4 A where not said otherwise, in a zone that charges 5 A."""
    return {
        "neutral_device": [DEVICE | {"kind": kind}],
        "neutral_duty": [DUTY | {"resistance_ohm": ohms, "charging_a": charging}],
        "zone": [{"zone": "ELM:B1", "substation": "ELM", "bus": "B1", "grounding_class": of}],
        "ground_source": [COIL | beside] if beside is not None else [],
        "policy": {"margin": margin, "high_resistance_current": limit},
    }


def pair(second_ohm, kind="resistor", **options):
    """Two resistors in the zone, the first of 2 A."""
    one = inventory(500.0, **options)
    (duty,) = one["neutral_duty"]
    devices = [DEVICE | {"kind": "resistor"}, DEVICE | NR2 | {"kind": kind}]
    return one | {"neutral_device": devices, "neutral_duty": [duty, duty | NR2 | {"resistance_ohm": second_ohm}]}


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
    policy={"margin": "neutral_device.charging_margin", "high_resistance_current": "grounding.high_resistance_current"},
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
                   if(bool_and(device_a IS NOT NULL) OVER (PARTITION BY place), known_a, NULL) AS zone_a,
                   CASE WHEN z.grounding_class = 'high_resistance' THEN TRUE
                        ELSE known_a <= $high_resistance_current END AS may_be_high_resistance
            FROM passed p
            LEFT JOIN study.zone z USING (zone)
            -- Beside a solid link, a reactor or a coil the resistor does not decide how the zone behaves.
            WHERE (z.grounding_class IN ('high_resistance', 'resistance') OR z.grounding_class IS NULL)
              AND NOT EXISTS (FROM study.ground_source g
                              WHERE g.zone = p.zone AND g.treatment = 'arc_suppression_coil')
        )
        SELECT substation, 'neutral_device' AS asset_kind, neutral_device AS asset, zone, 'A' AS unit,
               coalesce(zone_a, known_a)  AS actual,
               charging_a * $margin       AS required,
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
        -- One answer a zone: at a resistor of which the size is not known, else at the first; none where distribution
        -- transformers alone ground it, a question of its own.
        QUALIFY row_number() OVER (PARTITION BY place ORDER BY device_a IS NOT NULL, kind = 'distribution_transformer',
                                   substation, neutral_device) = 1
            AND bool_or(kind = 'resistor') OVER (PARTITION BY place)
    """,
    message="the resistors of zone {zone}, {asset} among them, pass {actual} A; the zone's charging current with "
    "margin is {required} A",
    formula="I_R = V_LL / (sqrt(3) R) >= k 3I_C0",
    working="{asset}: {zone_kv:g} kV / (sqrt(3) x {resistance_ohm} ohm) = {device_a} A\n"
    "I_R = {actual} A, all resistors of the zone\n"
    "k 3I_C0 = {margin:g} x {charging_a} A = {required} A",
    remedy="{ohms_needed} ohm or less in the neutral altogether, rated for the current that it then passes",
    caution="A lower resistance raises the fault current: check relays, damage at the fault and the rating first.",
    cannot_see="Where several resistors ground one zone, one of them carries the answer for all. Takes the whole zone "
    "with all its feeders in service, and capacitance as recorded.",
    examples={
        "exception: 4 A against 5 A": inventory(),
        "satisfied: exactly the charging current": inventory(200.0),
        "satisfied: 10 A against 5 A": inventory(100.0),
        "exception: charging current met, margin not": inventory(200.0, margin=1.2),
        "satisfied: class not known, exactly the charging current": inventory(200.0, None),
        "exception: exactly at the limit of high resistance": inventory(of=None, limit=4.0),
        "not applicable: above that limit, class not known": inventory(of=None, limit=3.9),
        "exception: above that limit, class known": inventory(limit=3.9),
        "satisfied: two resistors together reach it": pair(250.0),
        "exception: two resistors together do not": pair(600.0),
        "satisfied: with a distribution transformer they do": pair(250.0, "distribution_transformer"),
        "not assessable: one of two resistors not on record": pair(None),
        "satisfied: the known one of two is enough": pair(None, margin=0.4),
        "not assessable: resistance not on record": inventory(None, "resistance"),
        "not assessable: charging current not known": inventory(200.0, charging=None),
        "not assessable: no duty computed": {"neutral_device": [DEVICE | {"kind": "resistor"}]},
        "not applicable: low-resistance zone": inventory(of="low_resistance"),
        "not applicable: a coil in the zone": inventory(beside={}),
        "exception: a coil in another zone": inventory(beside={"zone": "OAK:B1"}),
        "not applicable: distribution transformers alone": inventory(kind="distribution_transformer"),
        "not applicable: reactor": inventory(kind="reactor"),
    },
)
