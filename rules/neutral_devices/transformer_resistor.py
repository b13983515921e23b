"""Loading resistors of distribution transformers that are too large for the capacitance of their zone."""

from math import inf

from groundcheck.audit import Rule

# Blackburn and Domin's generator of 18 kV, 0.5285 uF a phase: 18 000/240 V, 0.2974 ohm, 6.21 A through the neutral.
DEVICE = {"substation": "ELM", "neutral_device": "NGT1", "kind": "distribution_transformer",
          "primary_voltage": 18000.0, "secondary_voltage": 240.0, "secondary_resistance": 0.297427}  # fmt: skip
DUTY = {"substation": "ELM", "neutral_device": "NGT1", "zone": "ELM:B1", "zone_kv": 18.0}
ZONE = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1"}
SCREEN = {"zone": "ELM:B1", "charging_a": 6.21168, "resistor_a": 6.21168, "resistor_over_charging": 1.0}
BOUNDS = SCREEN | {
    "resistor_over_charging": None,
    "resistor_over_charging_low": 1.0,
    "resistor_over_charging_high": 2.0,
}
OTHER = {"neutral_device": "NGT2", "kind": "resistor"}


def inventory(ratio=1.0, of="high_resistance", margin=1.0, screen=SCREEN, beside=None, coil=None, **fields):
    """A loaded distribution transformer, and how its current compares with the charging current."""
    devices = [DEVICE | fields, *([DEVICE | OTHER | beside] if beside is not None else [])]
    return {
        "neutral_device": devices,
        "neutral_duty": [DUTY | {"neutral_device": each["neutral_device"]} for each in devices],
        "zone": [ZONE | {"grounding_class": of}],
        "transient_screen": [screen | {"resistor_over_charging": ratio}],
        "ground_source": [{"zone": coil, "asset": "T1", "treatment": "arc_suppression_coil"}] if coil else [],
        "policy": {"margin": margin},
    }


RULE = Rule(
    title="The loading resistor passes less than the charging current of the zone",
    severity="medium",
    why="Below the charging current the resistor no longer damps the capacitance of machine and bus: an arcing ground "
    "fault can drive the sound phases to several times their voltage and break down the stator elsewhere.",
    basis="IEEE C37.101 and C62.92.2, R_p not above 1/(3 w C0), seen from the primary (clauses recalled)",
    asks="neutral_device",
    inputs=(
        "neutral_device.secondary_resistance",
        "neutral_device.primary_voltage",
        "neutral_device.secondary_voltage",
        "transient_screen.resistor_over_charging",
    ),
    policy={"margin": "neutral_device.charging_margin"},
    query="""
        WITH loaded AS (
            SELECT d.substation, d.neutral_device, d.kind, d.secondary_resistance, u.zone, u.zone_kv,
                   d.primary_voltage / nullif(d.secondary_voltage, 0)               AS turns,
                   coalesce(u.zone, d.substation || ':' || d.neutral_device)        AS place,
                   count(*) OVER (PARTITION BY place)                               AS devices,
                   bool_and(kind = 'distribution_transformer') OVER (PARTITION BY place) AS alone
            FROM inventory.neutral_device d
            LEFT JOIN study.neutral_duty u USING (substation, neutral_device)
            WHERE d.kind IN ('resistor', 'distribution_transformer')
        )
        SELECT l.substation, 'neutral_device' AS asset_kind, l.neutral_device AS asset, l.zone, 'A' AS unit,
               coalesce(t.resistor_over_charging, t.resistor_over_charging_low)  AS least,
               coalesce(t.resistor_over_charging, t.resistor_over_charging_high) AS most,
               CASE WHEN least >= $margin THEN TRUE WHEN most < $margin THEN FALSE END AS ok,
               t.resistor_a                AS actual,
               t.charging_a * $margin      AS required,
               t.resistor_a_low AS actual_low, t.resistor_a_high AS actual_high,
               t.charging_a_low * $margin AS required_low, t.charging_a_high * $margin AS required_high,
               l.secondary_resistance, l.turns, l.zone_kv, t.charging_a, if(ok IS FALSE, most, least) AS ratio,
               l.zone_kv * 1000 / sqrt(3) / nullif(t.charging_a * $margin, 0) AS primary_ohm,
               l.devices * primary_ohm / l.turns ** 2 AS secondary_ohm
        FROM loaded l
        LEFT JOIN study.zone z USING (zone)
        LEFT JOIN study.transient_screen t USING (zone)
        -- Beside a resistor, a solid link, a reactor or a coil, or above what is high resistance, others ask.
        WHERE l.alone AND coalesce(z.grounding_class IN ('high_resistance', 'resistance'), TRUE)
          AND NOT EXISTS (FROM study.ground_source g WHERE g.zone = l.zone AND g.treatment = 'arc_suppression_coil')
        QUALIFY row_number() OVER (PARTITION BY l.place ORDER BY l.secondary_resistance IS NOT NULL, l.substation,
                                   l.neutral_device) = 1
    """,
    message="{asset} passes {actual} A in zone {zone}, whose charging current with margin is {required} A",
    formula="I_R >= k 3I_C0, that is R_s <= (V_s / V_p)^2 / (3 w C0 k)",
    working="I_R = {zone_kv} kV / (sqrt(3) x {secondary_resistance} ohm x {turns}^2) = {actual} A\n"
    "k 3I_C0 = {margin:g} x {charging_a} A = {required} A\n"
    "I_R / 3I_C0 = {ratio}\n"
    "largest R_p = {primary_ohm} ohm, R_s = R_p / {turns}^2 = {secondary_ohm} ohm",
    remedy="{secondary_ohm} ohm or less across the secondary; resistor and transformer must bear what it passes",
    caution="A lower resistance raises the fault current in the stator: check its iron, the relay pickups and the "
    "rating of the transformer first.",
    cannot_see="Where several distribution transformers ground one zone, one of them carries the answer and the ohms "
    "are for each of equal ones. Leaves out the impedance of the transformer itself.",
    examples={
        "satisfied: exactly the charging current": inventory(),
        "exception: 0.9 of it": inventory(0.9),
        "satisfied: 1.4 times": inventory(1.4),
        "exception: met, the margin not": inventory(margin=1.2),
        "satisfied: exactly the least that the record allows": inventory(None, screen=BOUNDS),
        "not assessable: exactly the most that the record allows": inventory(None, margin=2.0, screen=BOUNDS),
        "exception: beyond the most that the record allows": inventory(None, margin=2.1, screen=BOUNDS),
        "exception: class not known": inventory(0.9, None),
        "exception: two of them, one answer": inventory(0.9, beside={"kind": "distribution_transformer"}),
        "not assessable: its resistor not on record": inventory(
            None, None, screen=SCREEN | {"resistor_over_charging_low": 0.0, "resistor_over_charging_high": inf},
            secondary_resistance=None,
        ),
        "not assessable: nothing computed": {"neutral_device": [DEVICE | {"secondary_resistance": None}]},
        "not applicable: beside a resistor": inventory(0.9, beside={}),
        "not applicable: low resistance": inventory(0.9, "low_resistance"),
        "not applicable: a coil in the zone": inventory(0.9, coil="ELM:B1"),
        "exception: a coil in another zone": inventory(0.9, coil="OAK:B1"),
        "not applicable: resistor": inventory(0.9, kind="resistor"),
    },
)  # fmt: skip
