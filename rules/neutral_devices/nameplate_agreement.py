"""Neutral resistors whose volts, amperes and ohms contradict one another."""

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NR1", "kind": "resistor",
          "rated_voltage": 8.0, "rated_current": 400.0, "resistance": 20.0}  # fmt: skip


def inventory(tolerance=0.25, **fields):
    """One resistor whose amperes and ohms make 8 kV."""
    return {"neutral_device": [DEVICE | fields], "policy": {"tolerance": tolerance}}


RULE = Rule(
    title="The resistor's rated voltage, current and resistance disagree",
    severity="medium",
    why="One of the three figures is wrong, and the let-through current that protection and the resistor itself rely "
    "on is computed from them. A ratio of 1.73 means that a line-to-line voltage was recorded for a line-to-neutral "
    "one.",
    basis="IEEE C57.32, rated voltage = rated current x resistance, resistance tolerance 10 % (clauses recalled)",
    asks="neutral_device",
    inputs=("neutral_device.rated_voltage", "neutral_device.rated_current", "neutral_device.resistance"),
    policy={"tolerance": "neutral_device.nameplate_tolerance"},
    query="""
        SELECT d.substation, 'neutral_device' AS asset_kind, d.neutral_device AS asset,
               d.rated_voltage                                      AS actual,
               d.rated_current * d.resistance / 1000                AS required,
               'kV'                                                 AS unit,
               abs(actual - required) <= $tolerance * required      AS ok,
               d.rated_current, d.resistance,
               actual / nullif(required, 0)                         AS ratio,
               100 * $tolerance                                     AS tolerance_percent,
               d.rated_voltage * 1000 / nullif(d.rated_current, 0)  AS ohms_by_voltage
        FROM inventory.neutral_device d
        WHERE d.kind = 'resistor'
    """,
    message="{asset} is rated {actual} kV, but {rated_current} A x {resistance} ohm is {required} kV",
    formula="|V_rated - I_rated R| <= k I_rated R",
    working="I_rated R = {rated_current} A x {resistance} ohm = {required} kV\n"
    "V_rated = {actual} kV = {ratio:.2f} x I_rated R\n"
    "allowed: 1 plus or minus {tolerance_percent:g} %",
    remedy="read the nameplate and measure the resistance: {ohms_by_voltage} ohm would agree with its volts and "
    "amperes; a ratio of 1.73 calls for the line-to-neutral voltage",
    caution="Isolate and prove dead before measuring: a neutral can rise to line-to-neutral voltage while a fault is "
    "on.",
    cannot_see="Does not know which of the three figures is wrong.",
    examples={
        "satisfied: 8 kV, 400 A, 20 ohm": inventory(),
        "satisfied: exactly the tolerance above": inventory(rated_voltage=10.0),
        "satisfied: exactly the tolerance below": inventory(rated_voltage=6.0),
        "exception: above the tolerance": inventory(rated_voltage=10.1),
        "exception: below the tolerance": inventory(rated_voltage=5.9),
        "exception: within a wide tolerance, not within a narrow one": inventory(rated_voltage=9.0, tolerance=0.1),
        "exception: line-to-line voltage on record": inventory(rated_voltage=13.8),
        "exception: a resistor of no ohms": inventory(resistance=0.0),
        "not assessable: voltage not on record": inventory(rated_voltage=None),
        "not assessable: current not on record": inventory(rated_current=None),
        "not assessable: resistance not on record": inventory(resistance=None),
        "not applicable: reactor": inventory(kind="reactor"),
    },
)
