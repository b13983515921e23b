"""Grounded neutrals whose ground-fault current no relay on record measures."""

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NR1", "connected_to": ["T1"]}
POINT = {"substation": "ELM", "asset_kind": "transformer", "asset": "T1", "winding": "lv", "has_neutral": True,
         "device_substation": "ELM", "neutral_device": "NR1", "bus": "B1", "winding_kv": 11.0}  # fmt: skip
NO_NEUTRAL = POINT | {"asset": "T8", "neutral_device": "NR8", "has_neutral": False}
SHARED = POINT | {"asset": "T2", "has_neutral": False}
ON_RECORD = {"substation": "ELM", "ground_relays": True, "ground_detectors": False}
WATCH = {"substation": "OAK", "watcher_kind": "ground_relay", "watcher": "R1", "device_substation": "ELM",
         "neutral_device": "NR1", "placed": True}  # fmt: skip
SEES = WATCH | {"sees_current": True}
BLIND = WATCH | {"sees_current": False}
SOMEWHERE = {"substation": "ELM", "placed": False, "device_substation": None, "neutral_device": None}
AT_CT = SOMEWHERE | {"target_kind": "instrument_transformer", "target_substation": "ELM", "target": "CT1"}


def inventory(*watches, kind="resistor", points=(POINT,), kept=ON_RECORD):
    """A device in the neutral of T1, and what watches it."""
    return {
        "neutral_device": [DEVICE | {"kind": kind}],
        "neutral": [*points, NO_NEUTRAL],
        "ground_watch": watches,
        "protection_record": [kept] if kept else [],
    }


RULE = Rule(
    title="No ground relay measures the current of a grounded neutral",
    severity="high",
    why="The neutral is where every ground fault of its zone can be seen. Without a relay there, a fault that the "
    "feeder relays miss burns on, and the neutral device carries it until it fails.",
    basis="IEEE 142 and IEEE C37.91, ground relays in grounded neutrals (clauses recalled)",
    asks="neutral_device",
    inputs=(
        "neutral_device.connected_to",
        "neutral_device.kind",
        "transformer.vector_group",
        "ground_relay.function",
        "ground_relay.measures",
        "instrument_transformer.bus",
        "bus.nominal_voltage",
    ),
    policy={"low_voltage": "ground_relay.low_voltage"},
    query="""
        WITH point AS (
            SELECT device_substation AS substation, neutral_device, bool_or(has_neutral IS NOT FALSE) AS there,
                   string_agg(DISTINCT asset, ', ' ORDER BY asset) AS serves,
                   max(winding_kv) AS kv, min(bus) AS bus
            FROM study.neutral WHERE neutral_device IS NOT NULL GROUP BY device_substation, neutral_device
        ),
        watched AS (
            SELECT d.substation, d.neutral_device, bool_or(w.placed AND w.sees_current) AS seen,
                   min({'late': NOT w.placed, 'name': w.watcher, 'home': w.substation,
                        'ct': if(w.placed, NULL, w.target), 'ct_home': w.target_substation})
                       FILTER (w.sees_current IS NULL OR (w.sees_current AND NOT w.placed)) AS thin
            FROM inventory.neutral_device d
            JOIN study.ground_watch w ON (w.device_substation = d.substation AND w.neutral_device = d.neutral_device)
              -- A relay of which it is not on record what it measures may measure any neutral of its station.
              OR (w.substation = d.substation AND NOT w.placed)
            GROUP BY d.substation, d.neutral_device
        )
        SELECT d.substation, 'neutral_device' AS asset_kind, d.neutral_device AS asset,
               if(w.seen, 'ground relay', 'no ground relay')  AS actual,
               'ground relay'                                 AS required,
               ''                                             AS unit,
               CASE WHEN w.seen THEN TRUE
                    WHEN w.thin IS NULL AND p.there AND k.ground_relays AND (d.kind <> 'solid' OR p.kv IS NOT NULL)
                    THEN FALSE END AS ok,
               p.bus,
               replace(d.kind, '_', ' ') AS kind, p.serves,
               w.thin.name AS ground_relay, w.thin.home AS ground_relay_substation,
               w.thin.ct AS instrument_transformer, w.thin.ct_home AS instrument_transformer_substation,
               NULL::VARCHAR AS transformer,
               [if(p.there IS NULL, 'transformer.vector_group', NULL),
                if(w.thin IS NOT NULL OR k.ground_relays IS NOT TRUE, 'ground_relay.function', NULL),
                if(w.thin IS NOT NULL, 'ground_relay.measures', NULL),
                if(w.thin.ct IS NOT NULL, 'instrument_transformer.bus', NULL),
                if(d.kind = 'solid' AND p.kv IS NULL, 'bus.nominal_voltage', NULL)] AS needs
        FROM inventory.neutral_device d
        LEFT JOIN point p USING (substation, neutral_device)
        LEFT JOIN watched w USING (substation, neutral_device)
        LEFT JOIN study.protection_record k USING (substation)
        -- What grounds a neutral; not a device on record for a winding that has no neutral, another rule's question.
        WHERE d.kind IN ('solid', 'resistor', 'reactor', 'arc_suppression_coil', 'distribution_transformer')
          AND p.there IS NOT FALSE AND (d.kind = 'solid' AND p.kv <= $low_voltage) IS NOT TRUE
    """,
    message="{asset} ({kind}) grounds the neutral of {serves}; no ground relay on record measures it, {serves} or "
    "their bus",
    working="neutrals of {asset}: {serves}\nground relays on record that measure it, them, or their bus: none",
    remedy="element 51G (59G at a distribution transformer or a coil) that measures {asset}, tripping within its rated "
    "time",
    caution="Until there is one, a ground fault may burn on: do not rely on it being cleared.",
    cannot_see="Of a relay it sees function and measured asset, not whether it trips. A relay that measures a "
    "transformer with two grounded neutrals counts for both; one that measures an asset which is not on record counts "
    "for none. A solid neutral at low voltage is left to fuses and trip units. Where a district keeps no relays on "
    "record at all, nothing is concluded.",
    examples={
        "exception: resistor, no relay": inventory(),
        "exception: solid link, no relay": inventory(kind="solid"),
        "exception: reactor, no relay": inventory(kind="reactor"),
        "exception: coil, no relay": inventory(kind="arc_suppression_coil"),
        "exception: distribution transformer, no relay": inventory(kind="distribution_transformer"),
        "satisfied: a relay sees its current": inventory(SEES),
        "satisfied: two relays, one of which sees ground faults": inventory(BLIND, SEES | {"watcher": "R2"}),
        "exception: a relay that does not see ground faults": inventory(BLIND),
        "exception: a relay at another device": inventory(SEES | {"neutral_device": "NR8"}),
        "exception: a relay at a device of that tag in another station": inventory(SEES | {"device_substation": "OAK"}),
        "not assessable: function not on record": inventory(WATCH),
        "exception: function not on record, at another device": inventory(WATCH | {"neutral_device": "NR8"}),
        "not assessable: what a relay of the station measures not on record": inventory(SEES | SOMEWHERE),
        "not assessable: bus of the current transformer it measures not on record": inventory(SEES | AT_CT),
        "exception: nor would it see a ground fault": inventory(BLIND | SOMEWHERE),
        "exception: a relay of another station": inventory(SEES | SOMEWHERE | {"substation": "OAK"}),
        "not assessable: neither function nor measured asset on record": inventory(WATCH | SOMEWHERE),
        "not assessable: connected to nothing on record": inventory(points=()),
        "satisfied: connected to nothing on record, a relay sees its current": inventory(SEES, points=()),
        "not assessable: its district keeps no relays on record": inventory(kept=ON_RECORD | {"ground_relays": False}),
        "not assessable: nothing is known of its district": inventory(kept=None),
        "exception: not known whether the winding has a neutral": inventory(points=[POINT | {"has_neutral": None}]),
        "exception: shared with a winding that has no neutral": inventory(points=[POINT, SHARED]),
        "not applicable: the winding has no neutral": inventory(points=[SHARED]),
        "not applicable: solid, exactly low voltage": inventory(kind="solid", points=[POINT | {"winding_kv": 1.0}]),
        "exception: solid, above low voltage": inventory(kind="solid", points=[POINT | {"winding_kv": 1.1}]),
        "not assessable: solid, voltage of its bus not on record": inventory(
            kind="solid", points=[POINT | {"winding_kv": None}]
        )
        | {"bus": [{"substation": "ELM", "bus": "B1"}]},
        "exception: resistor, voltage of its bus not on record": inventory(points=[POINT | {"winding_kv": None}]),
        "exception: resistor at low voltage": inventory(points=[POINT | {"winding_kv": 0.4}]),
        "not applicable: open": inventory(kind="open"),
        "not applicable: surge arrester": inventory(kind="surge_arrester"),
    },
)
