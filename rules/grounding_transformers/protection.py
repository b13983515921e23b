"""Grounding transformers whose ground-fault current no relay on record measures."""

from groundcheck.audit import Rule

BANK = {"substation": "ELM", "grounding_transformer": "GT1", "bus": "B1"}
POINT = {"substation": "ELM", "asset_kind": "grounding_transformer", "asset": "GT1", "neutral_device": None}
ON_RECORD = {"substation": "ELM", "ground_relays": True}
SEES = {"substation": "OAK", "watcher_kind": "ground_relay", "watcher": "R1", "target_substation": "ELM",
        "target_kind": "grounding_transformer", "target": "GT1", "placed": True, "sees_current": True}  # fmt: skip
AT_BUS = SEES | {"target_kind": "bus", "target": "B1"}
AT_CT = SEES | {"target_kind": "instrument_transformer", "target": "CT1"}
CT = {"substation": "ELM", "instrument_transformer": "CT1", "kind": "ct"}
NOWHERE = {"placed": False, "target_kind": None, "target_substation": None, "target": None}
SOMEWHERE = SEES | NOWHERE | {"substation": "ELM"}


def inventory(*watches, device=None, kept=True, at="B1", ct_at="B1"):
    """A grounding transformer, and what watches it."""
    return {
        "grounding_transformer": [BANK | {"bus": at}],
        "neutral": [POINT | {"neutral_device": device}],
        "ground_watch": watches,
        "instrument_transformer": [CT | {"bus": ct_at}],
        "protection_record": [ON_RECORD | {"ground_relays": kept}],
    }


RULE = Rule(
    title="No ground relay measures the current of a grounding transformer",
    severity="high",
    why="All ground-fault current of the zone returns through the bank. Without a relay there, a fault that the feeder "
    "relays miss burns on until the bank, sized for seconds, fails and leaves the zone ungrounded.",
    basis="IEEE C37.91 and IEEE 142, ground relay in the neutral of a grounding transformer (clauses recalled)",
    asks="grounding_transformer",
    inputs=(
        "grounding_transformer.bus",
        "ground_relay.function",
        "ground_relay.measures",
        "instrument_transformer.bus",
    ),
    query="""
        WITH place AS (
            SELECT g.substation, g.grounding_transformer,
                   unnest(['at it ' || g.substation || ':' || g.grounding_transformer,
                           'at bus ' || if(contains(g.bus, ':'), g.bus, g.substation || ':' || g.bus),
                           'somewhere in ' || g.substation]) AS place
            FROM inventory.grounding_transformer g
            JOIN study.protection_record k USING (substation)
            -- A device in its neutral, a solid link too, is asked for its relay itself.
            WHERE k.ground_relays AND NOT EXISTS (
                FROM study.neutral n
                WHERE n.asset_kind = 'grounding_transformer' AND n.substation = g.substation
                  AND n.asset = g.grounding_transformer AND n.neutral_device IS NOT NULL)
        ),
        watch AS (
            SELECT DISTINCT w.substation, w.watcher, w.sees_current, w.placed,
                   i.instrument_transformer AS ct, i.substation AS ct_home,
                   CASE WHEN NOT w.placed THEN 'somewhere in ' || w.substation
                        WHEN w.target_kind = 'grounding_transformer'
                        THEN 'at it ' || w.target_substation || ':' || w.target
                        WHEN w.target_kind = 'bus' THEN 'at bus ' || w.target_substation || ':' || w.target
                        ELSE 'at bus ' || if(contains(i.bus, ':'), i.bus, i.substation || ':' || i.bus) END AS place
            FROM study.ground_watch w
            LEFT JOIN inventory.instrument_transformer i
                   ON w.target_kind = 'instrument_transformer'
                  AND i.substation = w.target_substation AND i.instrument_transformer = w.target
            WHERE w.watcher_kind = 'ground_relay'
        ),
        seen AS (
            SELECT p.substation, p.grounding_transformer, bool_or(w.placed AND w.sees_current) AS measured,
                   min({'late': NOT w.placed, 'name': w.watcher, 'home': w.substation,
                        'ct': if(w.placed, NULL, w.ct), 'ct_home': w.ct_home})
                       FILTER (w.watcher IS NOT NULL
                               AND (w.sees_current IS NULL OR (w.sees_current AND NOT w.placed))) AS thin
            FROM place p
            LEFT JOIN watch w USING (place)
            GROUP BY p.substation, p.grounding_transformer
        )
        SELECT substation, 'grounding_transformer' AS asset_kind, grounding_transformer AS asset,
               if(measured, 'ground relay', 'no ground relay')  AS actual,
               'ground relay'                                   AS required,
               ''                                               AS unit,
               CASE WHEN measured THEN TRUE WHEN thin IS NULL THEN FALSE END AS ok,
               thin.name AS ground_relay, thin.home AS ground_relay_substation,
               thin.ct AS instrument_transformer, thin.ct_home AS instrument_transformer_substation,
               ['ground_relay.function', 'ground_relay.measures',
                if(thin.ct IS NULL, NULL, 'instrument_transformer.bus')] AS needs
        FROM seen
    """,
    message="no ground relay on record measures {asset}, its neutral or its bus",
    working="ground relays on record that measure {asset}, or a current transformer at its bus: none",
    remedy="element 51G in the neutral of {asset}, or 51N at its bus, that trips within its rated time",
    caution="Until there is one, a ground fault may burn on: do not rely on it being cleared.",
    cannot_see="Of a relay it sees function and measured asset, not whether it trips. A bank with a device on record "
    "in its neutral is asked at that device. Where a district keeps no relays on record, nothing is asked.",
    examples={
        "exception: no relay": inventory(),
        "satisfied: a relay at it": inventory(SEES),
        "satisfied: a relay at its bus": inventory(AT_BUS),
        "satisfied: at its bus, which is another station's": inventory(
            AT_BUS | {"target_substation": "FIR"}, at="FIR:B1"
        ),
        "satisfied: a relay at a current transformer of its bus": inventory(AT_CT),
        "exception: a relay at another bus": inventory(AT_BUS | {"target": "B2"}),
        "exception: a relay at a bus of that tag in another station": inventory(AT_BUS | {"target_substation": "OAK"}),
        "exception: a relay at a line of that tag": inventory(SEES | {"target_kind": "line"}),
        "exception: a relay that does not see ground faults": inventory(SEES | {"sees_current": False}),
        "satisfied: one of two relays sees them": inventory(SEES | {"sees_current": False}, AT_BUS | {"watcher": "R2"}),
        "not assessable: function not on record": inventory(SEES | {"sees_current": None}),
        "not assessable: what a relay of its station measures not on record": inventory(SOMEWHERE),
        "not assessable: bus of the current transformer it measures not on record": inventory(
            AT_CT | {"placed": False, "substation": "ELM"}, ct_at=None
        ),
        "exception: a relay of another station that measures nothing on record": inventory(
            SOMEWHERE | {"substation": "OAK"}
        ),
        "not applicable: a device in its neutral": inventory(device="NR1"),
        "not applicable: its district keeps no relays on record": inventory(kept=False),
    },
)
