"""Grounded neutrals whose ground-fault current no relay on record measures."""

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NR1", "kind": "resistor", "connected_to": ["T1"]}
POINT = {"substation": "ELM", "asset_kind": "transformer", "asset": "T1", "winding": "lv", "has_neutral": True,
         "bus": "B1",
         "device_substation": "ELM", "neutral_device": "NR1", "treatment": "resistor"}  # fmt: skip
BUS = {"substation": "ELM", "bus": "B1", "nominal_voltage": 11.0}
ELSEWHERE = {"substation": "OAK", "ground_relay": "R9", "function": "51N", "measures": "T9"}
RELAY = {"substation": "ELM", "ground_relay": "R1", "function": "51G", "measures": "NR1"}
MENTION = {"substation": "ELM", "asset_kind": "ground_relay", "asset": "R1", "field": "measures",
           "target_kind": "neutral_device", "target_substation": "ELM", "target": "NR1"}  # fmt: skip
OTHER = {"asset": "T8", "neutral_device": "NR8", "has_neutral": False, "bus": "B8"}
CT = {"substation": "ELM", "instrument_transformer": "CT1", "kind": "ct", "bus": "B1"}


def inventory(kind="resistor", relay=None, measures=None, point=POINT, **tables):
    """A device in the neutral of T1; relays are kept on record elsewhere; a relay of its own measures this."""
    own = [] if relay is None else [RELAY | relay]
    mention = [] if measures is None else [MENTION | {"target_kind": measures[0], "target": measures[1]}]
    return {
        "neutral_device": [DEVICE | {"kind": kind}],
        "neutral": [] if point is None else [point, POINT | OTHER],
        "bus": [BUS],
        "ground_relay": [ELSEWHERE, *own],
        "reference": mention,
        **tables,
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
    ),
    policy={"ground_functions": "ground_relay.ground_functions"},
    query="""
        WITH relay AS (
            SELECT r.substation, r.ground_relay, r.function, r.measures, m.target_kind, m.target_substation, m.target,
                   regexp_matches(upper(regexp_replace(r.function, '[ ._-]', '', 'g')), $ground_functions) AS sees,
                   m.target_kind = 'instrument_transformer' AND i.bus IS NULL AS unplaced
            FROM inventory.ground_relay r
            LEFT JOIN inventory.reference m ON m.asset_kind = 'ground_relay' AND m.field = 'measures'
                                           AND m.substation = r.substation AND m.asset = r.ground_relay
            LEFT JOIN inventory.instrument_transformer i
                   ON i.substation = m.target_substation AND i.instrument_transformer = m.target
        ),
        served AS (
            SELECT n.*, b.substation AS bus_substation, b.bus AS bus_tag
            FROM study.neutral n
            LEFT JOIN inventory.bus b
                   ON b.substation || ':' || b.bus = if(contains(n.bus, ':'), n.bus, n.substation || ':' || n.bus)
            WHERE n.neutral_device IS NOT NULL
        ),
        place AS (
            -- Where a relay sees the current of a device: at the device, the asset it serves, the bus of that winding.
            SELECT substation AS home, neutral_device, 'neutral_device' AS kind, substation, neutral_device AS asset
            FROM inventory.neutral_device
            UNION ALL
            SELECT device_substation, neutral_device, asset_kind, substation, asset FROM served
            UNION ALL
            SELECT device_substation, neutral_device, 'bus', bus_substation, bus_tag FROM served
            UNION ALL
            SELECT s.device_substation, s.neutral_device, 'instrument_transformer', i.substation,
                   i.instrument_transformer
            FROM inventory.instrument_transformer i
            JOIN served s ON s.bus_substation || ':' || s.bus_tag =
                             if(contains(i.bus, ':'), i.bus, i.substation || ':' || i.bus)
        ),
        measured AS (
            SELECT p.home, p.neutral_device,
                   bool_or(r.sees)                                        AS seen,
                   min(r.ground_relay) FILTER (r.function IS NULL)        AS thin
            FROM place p
            JOIN relay r ON r.target_kind = p.kind AND r.target_substation = p.substation AND r.target = p.asset
            GROUP BY p.home, p.neutral_device
        ),
        unplaced AS (
            -- Relays of which it is not on record what they measure: they may measure any neutral of their station.
            SELECT substation, min({'relay': ground_relay, 'it': if(unplaced, target, NULL)}) AS thin
            FROM relay
            WHERE (measures IS NULL OR unplaced) AND sees IS NOT FALSE
            GROUP BY substation
        ),
        point AS (
            SELECT device_substation, neutral_device, bool_or(has_neutral IS NOT FALSE) AS there,
                   string_agg(DISTINCT asset, ', ' ORDER BY asset) AS serves
            FROM served
            GROUP BY device_substation, neutral_device
        ),
        kept AS (
            -- Districts whose records hold relays at all; of the others nothing can be said.
            SELECT DISTINCT coalesce(s.district, '') AS district
            FROM inventory.ground_relay r LEFT JOIN inventory.substation s USING (substation)
        )
        SELECT d.substation, 'neutral_device' AS asset_kind, d.neutral_device AS asset,
               if(m.seen, 'ground relay', 'no ground relay')  AS actual,
               'ground relay'                                 AS required,
               ''                                             AS unit,
               coalesce(m.thin, u.thin.relay)                 AS ground_relay,
               u.thin.it                                      AS instrument_transformer,
               NULL::VARCHAR                                  AS transformer,
               CASE WHEN m.seen THEN TRUE
                    WHEN ground_relay IS NULL AND n.there AND k.district IS NOT NULL THEN FALSE END AS ok,
               replace(d.kind, '_', ' ') AS kind, n.serves,
               [if(n.there IS NULL, 'transformer.vector_group', NULL),
                if(ground_relay IS NOT NULL OR k.district IS NULL, 'ground_relay.function', NULL),
                if(ground_relay IS NOT NULL, 'ground_relay.measures', NULL),
                if(instrument_transformer IS NOT NULL, 'instrument_transformer.bus', NULL)] AS needs
        FROM inventory.neutral_device d
        LEFT JOIN point n ON n.device_substation = d.substation AND n.neutral_device = d.neutral_device
        LEFT JOIN measured m ON m.home = d.substation AND m.neutral_device = d.neutral_device
        LEFT JOIN unplaced u ON u.substation = d.substation
        LEFT JOIN inventory.substation s ON s.substation = d.substation
        LEFT JOIN kept k ON k.district = coalesce(s.district, '')
        -- What grounds a neutral; not a device on record for a winding that has no neutral, another rule's question.
        WHERE d.kind IN ('solid', 'resistor', 'reactor', 'arc_suppression_coil', 'distribution_transformer')
          AND n.there IS NOT FALSE
    """,
    message="{asset} ({kind}) grounds the neutral of {serves}; no ground relay on record measures it, {serves} or "
    "their bus",
    working="ground relays on record that measure {asset}, {serves}, or the bus of that winding: none",
    remedy="element 51G (59G at a distribution transformer or a coil) that measures {asset}, tripping within its rated "
    "time",
    caution="Until there is one, a ground fault may burn on: do not rely on it being cleared.",
    cannot_see="Of a relay it sees function and measured asset, not whether it trips. A relay that measures a "
    "transformer with two grounded neutrals counts for both; one that measures an asset which is not on record counts "
    "for none. Where a district keeps no relays on record at all, nothing is concluded.",
    examples={
        "exception: resistor, no relay": inventory(),
        "exception: solid link, no relay": inventory("solid"),
        "exception: reactor, no relay": inventory("reactor"),
        "exception: coil, no relay": inventory("arc_suppression_coil"),
        "exception: distribution transformer, no relay": inventory("distribution_transformer"),
        "satisfied: 51G measures the device": inventory(relay={}, measures=("neutral_device", "NR1")),
        "satisfied: the transformer": inventory(relay={"function": "51 N"}, measures=("transformer", "T1")),
        "satisfied: the bus of that winding": inventory(relay={"function": "59N"}, measures=("bus", "B1")),
        "satisfied: a current transformer at that bus": inventory(
            relay={}, measures=("instrument_transformer", "CT1"), instrument_transformer=[CT]
        ),
        "satisfied: a transformer of another station": inventory(
            relay={},
            measures=("transformer", "T1"),
            reference=[MENTION | {"target_kind": "transformer", "target_substation": "OAK", "target": "T1"}],
            point=POINT | {"substation": "OAK", "bus": "ELM:B1"},
        ),
        "exception: 51 sees phase currents": inventory(relay={"function": "51"}, measures=("transformer", "T1")),
        "exception: the relay measures another transformer": inventory(relay={}, measures=("transformer", "T2")),
        "exception: the relay measures a line of the same tag": inventory(relay={}, measures=("line", "NR1")),
        "exception: that current transformer is at another bus": inventory(
            relay={}, measures=("instrument_transformer", "CT1"), instrument_transformer=[CT | {"bus": "B2"}]
        ),
        "not assessable: bus of that current transformer not on record": inventory(
            relay={}, measures=("instrument_transformer", "CT1"), instrument_transformer=[CT | {"bus": None}]
        ),
        "not assessable: not on record what a relay of the station measures": inventory(relay={"measures": None}),
        "exception: nor would it see a ground fault": inventory(relay={"measures": None, "function": "51"}),
        "not assessable: function not on record": inventory(
            relay={"function": None}, measures=("neutral_device", "NR1")
        ),
        "exception: function not on record, measures another transformer": inventory(
            relay={"function": None}, measures=("transformer", "T2")
        ),
        "not assessable: neither function nor measured asset on record": inventory(
            relay={"function": None, "measures": None}
        ),
        "not assessable: connected to nothing on record": inventory(point=None),
        "not assessable: no relay on record anywhere": inventory() | {"ground_relay": []},
        "not assessable: its district keeps none": inventory()
        | {"substation": [{"substation": "OAK", "district": "East"}, {"substation": "ELM", "district": "West"}]},
        "satisfied: two relays measure it, one of which sees ground faults": inventory(
            ground_relay=[RELAY, RELAY | {"ground_relay": "R2", "function": "51"}],
            reference=[MENTION, MENTION | {"asset": "R2"}],
        ),
        "exception: a winding of which it is not known whether it has a neutral": inventory(
            point=POINT | {"has_neutral": None}
        ),
        "exception: shared with a winding that has no neutral": inventory(
            neutral=[POINT, POINT | {"asset": "T2", "has_neutral": False}]
        ),
        "satisfied: measured at the device, its winding at a bus that is not on record": inventory(
            relay={}, measures=("neutral_device", "NR1"), point=POINT | {"bus": "B9"}
        ),
        "exception: a winding at a bus that is not on record": inventory(point=POINT | {"bus": "B9"}),
        "not applicable: the winding has no neutral": inventory(point=POINT | {"has_neutral": False}),
        "not applicable: open": inventory("open"),
        "not applicable: surge arrester": inventory("surge_arrester"),
    },
)
