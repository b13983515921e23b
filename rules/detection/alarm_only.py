"""Zones that a ground fault must trip, and whose ground relays only alarm."""

from groundcheck.audit import Rule

ZONE = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1", "nominal_kv": 11.0, "grounding_class": "low_resistance"}
WATCH = {"substation": "ELM", "watcher_kind": "ground_relay", "zone": "ELM:B1"}
ALARM = {"action": "alarm", "sees_current": True, "placed": True}
TRIP = ALARM | {"action": "trip"}


def inventory(*relays, **zone):
    """A zone, and the relays that watch it."""
    tags = [f"R{number}" for number, _ in enumerate(relays, 1)]
    watches = [WATCH | {"watcher": tag, "sees_current": r["sees_current"], "placed": r["placed"]}
               for tag, r in zip(tags, relays, strict=True)]  # fmt: skip
    rows = [
        {"substation": "ELM", "ground_relay": tag, "action": r["action"]} for tag, r in zip(tags, relays, strict=True)
    ]
    return {"zone": [ZONE | zone], "ground_watch": watches, "ground_relay": rows}


def behind_infeed(declared):
    """The same where only an infeed grounds the zone, and its bus declares how."""
    bus = {"substation": "ELM", "bus": "B1", "declared_grounding": declared}
    zone_bus = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1"}
    return inventory(ALARM, grounding_class="grounded_by_infeed") | {"bus": [bus], "zone_bus": [zone_bus]}


RULE = Rule(
    title="Ground relays only alarm in a zone that a ground fault must trip",
    severity="high",
    why="A ground fault in such a zone draws hundreds of amperes or more. Nothing takes it off before somebody answers "
    "the alarm: the neutral device, rated for seconds, fails, and steps and touches near the fault can kill.",
    basis="IEEE 142 and IEEE C37.91, ground faults in low-impedance grounded systems are tripped (clauses recalled)",
    asks="zone",
    inputs=("zone.grounding_class", "ground_relay.action", "ground_relay.function", "ground_relay.measures"),
    query="""
        WITH relay AS (
            SELECT w.zone, w.substation, w.watcher AS ground_relay, w.placed, w.sees_current,
                   r.action = 'trip' AND w.sees_current AND w.placed AS trips,
                   coalesce(r.action <> 'alarm', TRUE) AND w.sees_current IS NOT FALSE AS may_trip
            FROM study.ground_watch w
            JOIN inventory.ground_relay r ON r.substation = w.substation AND r.ground_relay = w.watcher
            WHERE w.watcher_kind = 'ground_relay'
        ),
        watched AS (
            SELECT zone, bool_or(trips) AS trips, bool_or(may_trip) AS may_trip,
                   min({'tag': ground_relay, 'home': substation}) FILTER (may_trip) AS thin,
                   string_agg(DISTINCT ground_relay, ', ' ORDER BY ground_relay)
                       FILTER (placed AND sees_current) AS relays
            FROM relay GROUP BY zone
        )
        SELECT z.substation, 'bus' AS asset_kind, z.bus AS asset, z.zone, z.bus, z.nominal_kv, w.relays,
               if(w.trips, 'trip', 'alarm') AS actual, 'trip' AS required, '' AS unit,
               CASE WHEN w.trips THEN TRUE
                    WHEN NOT w.may_trip AND z.grounding_class IS NOT NULL THEN FALSE END AS ok,
               replace(z.grounding_class, '_', ' ') AS grounding_class,
               w.thin.tag AS ground_relay, w.thin.home AS ground_relay_substation,
               [if(z.grounding_class IS NULL, 'zone.grounding_class', NULL)]
               || if(w.may_trip, ['ground_relay.action', 'ground_relay.function', 'ground_relay.measures'], []) AS needs
        FROM study.zone z
        JOIN watched w USING (zone)
        -- Zones that pass a large current, or may, with a ground relay; without one it is another rule's question.
        WHERE w.relays IS NOT NULL AND z.continuity_required IS NOT TRUE
          AND (z.grounding_class IS NULL OR z.grounding_class IN
               ('low_resistance', 'reactance', 'solid', 'solid_not_effective', 'effective')
               -- What stands behind an infeed only the declaration tells.
               OR (z.grounding_class = 'grounded_by_infeed' AND EXISTS (
                       SELECT 1 FROM study.zone_bus p JOIN inventory.bus b USING (substation, bus)
                       WHERE p.zone = z.zone
                         AND b.declared_grounding IN ('low_resistance', 'reactance', 'solid', 'effective'))))
    """,
    message="zone {zone} ({nominal_kv:g} kV, {grounding_class}) is watched by {relays}, of which none trips",
    working="class of the zone: {grounding_class}\nground relays on record that watch it: {relays}\n"
    "of these trip: none",
    remedy="a ground relay that trips the source of zone {zone} within the rated time of its neutral device",
    caution="Until one trips, keep away from plant in the zone while the alarm stands; the fault may be at your feet.",
    cannot_see="Phase relays, fuses and low-voltage breakers that clear a heavy ground fault are not in the record of "
    "ground relays.",
    examples={
        "exception: one relay, which alarms": inventory(ALARM),
        "exception: two relays, which alarm": inventory(ALARM, ALARM),
        "satisfied: it trips": inventory(TRIP),
        "satisfied: one of two trips": inventory(ALARM, TRIP),
        "satisfied: one of two trips, action of the other not on record": inventory(TRIP | {"action": None}, TRIP),
        "exception: effectively grounded": inventory(ALARM, grounding_class="effective"),
        "exception: a tripping relay that does not see ground faults": inventory(ALARM, TRIP | {"sees_current": False}),
        "not assessable: action not on record": inventory(ALARM | {"action": None}),
        "not assessable: function of the tripping relay not on record": inventory(ALARM, TRIP | {"sees_current": None}),
        "not assessable: where the tripping relay measures not on record": inventory(ALARM, TRIP | {"placed": False}),
        "exception: nor would that one trip": inventory(ALARM, ALARM | {"placed": False}),
        "not assessable: class not known": inventory(ALARM, grounding_class=None),
        "satisfied: class not known, it trips anyway": inventory(TRIP, grounding_class=None),
        "exception: grounded by an infeed, declared low resistance": behind_infeed("low_resistance"),
        "not applicable: grounded by an infeed, declared resonant": behind_infeed("resonant"),
        "not applicable: grounded by an infeed, nothing declared": behind_infeed(None),
        "not applicable: it is meant to run on": inventory(ALARM, continuity_required=True),
        "not applicable: high-resistance grounded": inventory(ALARM, grounding_class="high_resistance"),
        "not applicable: no ground relay": inventory(),
        "not applicable: none that sees ground faults": inventory(ALARM | {"sees_current": False}),
    },
)
