"""Neutral devices said to stand in the neutral of a winding that has none."""

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NR1", "kind": "resistor", "connected_to": ["T1"], "winding": "lv"}
POINT = {"substation": "ELM", "asset_kind": "transformer", "asset": "T1", "winding": "lv", "connection": "D",
         "has_neutral": False, "device_substation": "ELM", "neutral_device": "NR1",
         "treatment": "resistor"}  # fmt: skip


def inventory(point=POINT, kind="resistor"):
    """A device and the neutral point that it is said to stand in."""
    return {"neutral_device": [DEVICE | {"kind": kind}], "neutral": [point]}


RULE = Rule(
    title="A neutral device is on record for a winding that has no neutral",
    severity="high",
    why="Either the winding or the device is recorded wrongly. If there is no neutral, the bus is not grounded where "
    "it is thought to be, and a ground fault there is neither limited nor cleared.",
    basis="IEC 60076-1, connection symbols (a delta winding has no neutral), clause recalled",
    asks="neutral_device",
    inputs=(
        "neutral_device.connected_to",
        "neutral_device.winding",
        "neutral_device.kind",
        "transformer.vector_group",
        "neutral.has_neutral",
    ),
    query="""
        SELECT d.substation, 'neutral_device' AS asset_kind, d.neutral_device AS asset,
               n.substation || ':' || n.asset || ' ' || coalesce(n.winding, '') AS item,
               if(n.asset_kind = 'transformer', n.asset, NULL)  AS transformer,
               n.connection          AS actual,
               'a winding with a neutral'  AS required,
               ''                    AS unit,
               n.has_neutral         AS ok,
               n.substation          AS transformer_substation,
               n.winding,
               [if(n.asset IS NULL, 'transformer.vector_group', 'neutral.has_neutral')] AS needs,
               d.kind, n.asset AS serves, upper(coalesce(n.winding, '')) AS side
        FROM inventory.neutral_device d
        LEFT JOIN study.neutral n ON n.device_substation = d.substation AND n.neutral_device = d.neutral_device
        WHERE d.kind <> 'open'
    """,
    message="{asset} ({kind}) is on record in the neutral of {serves} {side}, a winding of connection "
    "{actual}, which brings none out",
    working="connection of {serves} {side}: {actual}\na neutral is there with YN, ZN or an auto-transformer only",
    remedy="read the nameplate of {serves}: correct its vector group, or the transformer and winding that {asset} "
    "serves; if both are right, the bus needs a grounding transformer",
    caution="Until it is settled, take the bus for ungrounded.",
    cannot_see="A device that names an asset which is not on record is reported as an unresolved reference.",
    examples={
        "exception: resistor on a delta winding": inventory(),
        "satisfied: resistor on a winding with a neutral": inventory(POINT | {"has_neutral": True, "connection": "YN"}),
        "not assessable: the vector group does not tell of a neutral": inventory(POINT | {"has_neutral": None}),
        "not assessable: connected to nothing on record": {"neutral_device": [DEVICE]},
        "not assessable: the point belongs to another device": inventory(POINT | {"neutral_device": "NR2"}),
        "not assessable: the point belongs to another station's device": inventory(
            POINT | {"device_substation": "OAK"}
        ),
        "exception: a generator wound in delta": inventory(POINT | {"asset_kind": "generator", "asset": "G1"}),
        "not applicable: nothing is connected": inventory(kind="open"),
    },
)
