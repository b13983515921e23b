"""Neutral reactors so large that an arcing ground fault can build up overvoltage."""

from math import inf

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NX1", "kind": "reactor", "reactance": 4.0}
DUTY = {"substation": "ELM", "neutral_device": "NX1", "zone": "ELM:B1"}
SCREEN = {"zone": "ELM:B1", "x0_over_x1": 8.0, "reactance_change_ohm": -2.0}
BOUNDS = {"x0_over_x1": None, "x0_over_x1_low": 6.0, "x0_over_x1_high": 8.0}


def inventory(limit=8.0, kind="reactor", reactance=4.0, **screen):
    """A reactor, and the ratio of its zone."""
    return {
        "neutral_device": [DEVICE | {"kind": kind, "reactance": reactance}],
        "neutral_duty": [DUTY],
        "transient_screen": [SCREEN | screen],
        "policy": {"limit": limit},
    }


RULE = Rule(
    title="The neutral reactor is too large to keep arcing ground faults from building up overvoltage",
    severity="medium",
    why="With more zero-sequence reactance than that, a ground fault which strikes and goes out again charges the "
    "phases step by step to several times their voltage, and sound equipment elsewhere breaks down.",
    basis="IEEE 142, 1.4.4, as quoted: X0/X1 of 10 or less for reactance grounding",
    asks="neutral_device",
    inputs=("neutral_device.reactance", "neutral_device.kind", "transient_screen.x0_over_x1"),
    policy={"limit": "transient.reactance_ratio"},
    query="""
        WITH ratio AS (
            SELECT d.substation, d.neutral_device, d.reactance, u.zone, t.reactance_change_ohm,
                   t.x0_over_x1_low AS actual_low, t.x0_over_x1_high AS actual_high,
                   coalesce(t.x0_over_x1, t.x0_over_x1_low)  AS least,
                   coalesce(t.x0_over_x1, t.x0_over_x1_high) AS most
            FROM inventory.neutral_device d
            LEFT JOIN study.neutral_duty u USING (substation, neutral_device)
            LEFT JOIN study.transient_screen t ON t.zone = u.zone
            -- A resistor in the zone damps it: R0/X0 decides there.
            WHERE d.kind = 'reactor' AND t.resistor_a_high IS NULL
        )
        SELECT substation, 'neutral_device' AS asset_kind, neutral_device AS asset, zone, '' AS unit,
               -- Below zero the zone's capacitance outweighs the reactor.
               CASE WHEN least >= 0 AND most <= $limit THEN TRUE
                    WHEN most < 0 OR least > $limit THEN FALSE END AS ok,
               if(ok IS FALSE AND most >= 0, least, most) AS actual,
               $limit AS required, actual_low, actual_high, reactance,
               -reactance_change_ohm AS less_ohm,
               if(reactance + reactance_change_ohm > 0, reactance + reactance_change_ohm, NULL) AS ohms_needed
        FROM ratio
    """,
    message="{asset} leaves zone {zone} an X0/X1 of {actual}; {required:g} or less keeps overvoltage down",
    formula="0 <= X0 / X1 <= k, at every bus of the zone",
    working="X0 / X1 = {actual}, the largest of zone {zone}\n"
    "k = {required:g}\n"
    "to take away: (X0 - k X1) / 3 = {less_ohm} ohm, of {reactance} ohm",
    remedy="a reactor of {ohms_needed} ohm or less in the only grounded neutral of the zone, or a resistor instead",
    caution="A smaller reactor raises the fault current: check relays, mat and the current rating first.",
    cannot_see="A zone with a resistor in another neutral is not asked. The ohms hold where one neutral grounds the "
    "zone. Reactors that are meant as arc-suppression coils must be recorded as such.",
    examples={
        "exception: 8.1 against 8": inventory(x0_over_x1=8.1),
        "satisfied: exactly at the limit": inventory(),
        "satisfied: 3": inventory(x0_over_x1=3.0),
        "exception: within a wide limit, not within a narrow one": inventory(7.0),
        "satisfied: exactly nothing": inventory(x0_over_x1=0.0),
        "exception: capacitive": inventory(x0_over_x1=-5.0),
        "satisfied: exactly the most that the record allows": inventory(**BOUNDS),
        "not assessable: exactly the least that the record allows": inventory(6.0, **BOUNDS),
        "exception: beyond the least that the record allows": inventory(5.9, **BOUNDS),
        "not assessable: may be capacitive": inventory(**BOUNDS | {"x0_over_x1_low": -1.0}),
        "not assessable: nothing at most": inventory(x0_over_x1=None, x0_over_x1_low=-1.0, x0_over_x1_high=0.0),
        "not assessable: reactance not on record": inventory(
            reactance=None, x0_over_x1=None, x0_over_x1_low=0.0, x0_over_x1_high=inf
        ),
        "not assessable: nothing computed": {"neutral_device": [DEVICE]},
        "not applicable: a resistor in the zone": inventory(x0_over_x1=20.0, resistor_a_high=400.0),
        "not applicable: a resistor": inventory(x0_over_x1=20.0, kind="resistor"),
    },
)
