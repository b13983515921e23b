"""Neutral resistors and coils that may open unseen: not supervised, and nobody at the station."""

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NR1", "kind": "resistor"}
OTHER = {"substation": "OAK", "neutral_device": "NR1", "kind": "resistor", "monitored": True}


def inventory(attended, monitored, kind="resistor", neighbor=None, district="North"):
    """A device, its station, and a device of another station."""
    return {
        "substation": [{"substation": "ELM", "attended": attended, "district": "North"},
                       {"substation": "OAK", "district": district}],
        "neutral_device": [DEVICE | {"monitored": monitored, "kind": kind}, *([OTHER | neighbor] if neighbor else [])],
    }  # fmt: skip


RULE = Rule(
    title="Nothing and nobody would notice that the neutral device has opened",
    severity="medium",
    why="A resistor that breaks, or whose connection is cut, changes nothing while the network is sound. The zone is "
    "then ungrounded unseen, and the next ground fault draws no current that a relay could clear.",
    basis="common practice, no source; supervision of the neutral resistor is compulsory in mines of several countries",
    asks="neutral_device",
    inputs=("neutral_device.monitored", "substation.attended"),
    query="""
        WITH recorded AS (
            SELECT d.*, s.attended,
                   bool_or(d.monitored IS NOT NULL) OVER (PARTITION BY coalesce(s.district, d.substation)) AS kept
            FROM inventory.neutral_device d
            LEFT JOIN inventory.substation s USING (substation)
        )
        SELECT substation, 'neutral_device' AS asset_kind, neutral_device AS asset,
               if(monitored, 'supervised', 'not supervised, nobody there')  AS actual,
               'supervised, or a station with people'                       AS required,
               ''                                                           AS unit,
               monitored OR attended                                        AS ok,
               replace(kind, '_', ' ') AS kind,
               [if(monitored IS NULL, 'neutral_device.monitored', NULL),
                if(monitored IS NOT NULL OR attended IS NULL, 'substation.attended', NULL)] AS needs
        FROM recorded
        -- A district that says of no device whether it is supervised keeps no record of it.
        WHERE kind IN ('resistor', 'arc_suppression_coil')
          AND (monitored IS NOT NULL OR (attended IS FALSE AND kept))
    """,
    message="{asset} ({kind}) is not supervised, and nobody is at the station",
    working="supervised: no\nstation attended: no",
    remedy="continuity supervision of {asset} that gives an alarm where it is seen; until then, look at it and measure "
    "it at every visit",
    caution="Measure only with its transformer dead or grounded otherwise: a neutral can rise to line-to-neutral "
    "voltage while a fault is on.",
    cannot_see="Does not see who gets the alarm, nor whether a second ground source would hold the zone.",
    examples={
        "exception: neither": inventory(False, False),
        "exception: a coil": inventory(False, False, "arc_suppression_coil"),
        "satisfied: supervised": inventory(False, True),
        "satisfied: supervised, attendance not on record": inventory(None, True),
        "satisfied: attended": inventory(True, False),
        "not assessable: attendance not on record": inventory(None, False),
        "not assessable: not on record of this device": {
            **inventory(False, None), "neutral_device": [DEVICE, DEVICE | {"neutral_device": "NL", "kind": "solid",
                                                                            "monitored": False}]
        },
        "not applicable: neither on record": inventory(None, None),
        "not applicable: its district says it of no device": inventory(False, None),
        "not applicable: solid link": inventory(False, False, "solid"),
    },
)  # fmt: skip
