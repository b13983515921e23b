"""Ground relays that do not wait long enough for the relay that they back up."""

from groundcheck.audit import Rule

RELAY = {"substation": "ELM", "ground_relay": "R1", "function": "51G", "backs_up": "R2", "action": "trip"}
# Handbook section 10: 51G at 100 A, IEC very inverse, 0.2, over 51N at 60 A, 0.1; 398.7 A at the fault: 0.665 s.
WAITS = {"substation": "ELM", "ground_relay": "R1", "backed_substation": "ELM", "backed_relay": "R2",
         "interval_s": 0.6647, "at_value": 398.743, "backed_at_value": 398.743, "time_s": 0.9038,
         "backed_time_s": 0.2391, "backed_breaker_s": 0.08}  # fmt: skip


def inventory(interval_s=0.6647, low=None, high=None, least=0.3, relay=RELAY):
    """A relay, and by how much it waits at the fault where it waits least."""
    row = WAITS | {"interval_s": interval_s, "interval_s_low": low, "interval_s_high": high}
    return {"ground_relay": [relay], "coordination": [row], "policy": {"least": least}}


RULE = Rule(
    title="A backup ground relay does not wait for the relay that it backs up",
    severity="medium",
    why="A fault on one feeder trips the relay behind all of them: everything that hangs on it is lost, and the search "
    "for the fault starts in the wrong place.",
    basis="IEEE 242, coordination of overcurrent relays: 0.2 to 0.4 s (recalled); 0.3 s common practice",
    asks="ground_relay",
    inputs=("ground_relay.backs_up", "coordination.interval_s"),
    policy={"least": "ground_relay.coordination_interval"},
    query="""
        SELECT r.substation, 'ground_relay' AS asset_kind, r.ground_relay AS asset,
               coalesce(c.interval_s, c.interval_s_low)   AS least_s,
               coalesce(c.interval_s, c.interval_s_high)  AS most_s,
               $least                                     AS required,
               's'                                        AS unit,
               CASE WHEN least_s >= required THEN TRUE
                    WHEN most_s < required THEN FALSE END AS ok,
               if(ok IS FALSE, most_s, least_s)           AS interval_s,
               if(isinf(interval_s), NULL, interval_s)    AS actual,
               if(isinf(c.interval_s_low), NULL, c.interval_s_low)    AS actual_low,
               if(isinf(c.interval_s_high), NULL, c.interval_s_high)  AS actual_high,
               c.backed_substation, c.backed_relay, c.at_value, c.backed_at_value, c.time_s, c.backed_time_s,
               if(c.backed_substation <> r.substation, c.backed_substation || ':', '') || c.backed_relay AS main,
               -- Minus infinity: the relay that should be first does not pick up at all.
               CASE WHEN isinf(interval_s) THEN 'operates in a fault that ' || main || ' does not see'
                    ELSE printf('waits %.2f s for %s', interval_s, main) END AS found,
               if(isinf(interval_s), 'pickups and ratios of both that make ' || main || ' the first',
                  printf('a delay of %s %.2f s longer, or of %s as much shorter',
                         r.ground_relay, $least - interval_s, main)) AS cure
        FROM study.coordination c
        JOIN inventory.ground_relay r USING (substation, ground_relay)
        WHERE coalesce(c.interval_s, c.interval_s_low, c.interval_s_high) IS NOT NULL
          AND r.action IS DISTINCT FROM 'alarm'
    """,
    message="{asset} {found}, which it backs up; {required:g} s is the least",
    formula="t_backup - t_main >= CTI",
    working="t_backup = {time_s} s at {at_value} A\nt_main = {backed_time_s} s at {backed_at_value} A\n"
    "t_backup - t_main: {asset} {found}\nCTI = {required:g} s",
    remedy="{cure}",
    caution="A longer delay heats neutral device and conductors for longer: check their rated time first.",
    cannot_see="Compares operating times over the ground faults that both see; a breaker slower than about 0.1 s "
    "or an electromechanical relay that coasts on needs more than the least.",
    examples={
        "satisfied: handbook example, 0.66 s": inventory(),
        "exception: 0.29 s": inventory(0.29),
        "satisfied: exactly the least": inventory(0.3),
        "exception: 0.3 s met, 0.4 s asked": inventory(0.3, least=0.4),
        "exception: only the backup operates": inventory(-float("inf")),
        "satisfied: only the relay that it backs up operates": inventory(float("inf")),
        "satisfied: exactly at the least that the record allows": inventory(None, 0.3, 0.9),
        "exception: below it at the most that the record allows": inventory(None, -float("inf"), 0.29),
        "not assessable: exactly the least, at the most that the record allows": inventory(None, 0.1, 0.3),
        "not assessable: times not on record": inventory(None, -float("inf"), float("inf")),
        "exception: action not on record": inventory(0.1, relay=RELAY | {"action": None}),
        "not applicable: it only alarms": inventory(0.1, relay=RELAY | {"action": "alarm"}),
        "not applicable: its quantity is not computed": inventory(None),
        "not applicable: backs up nothing": {"ground_relay": [RELAY | {"backs_up": None}]},
    },
)
