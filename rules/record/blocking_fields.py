"""Blank fields that hold up much of the study of their station."""

from groundcheck.audit import Rule

ELM = {"substation": "ELM"}


def blocked(quantities, field="x_over_r", **columns):
    """So many quantities that wait for a field of one transformer."""
    row = {"substation": "ELM", "asset_kind": "bus", "asset": "B1", "blocking_substation": "ELM",
           "blocking_asset_kind": "transformer", "blocking_asset": "T1", "field": field}  # fmt: skip
    return [row | {"quantity": f"bus_fault.quantity_{n}"} | columns for n in range(quantities)]


def inventory(*rows, limit=3.0):
    """One station, and what is blocked in it."""
    return {"substation": [ELM], "blocked": [row for part in rows for row in part], "policy": {"limit": limit}}


RULE = Rule(
    title="One blank field holds up much of the study",
    severity="low",
    why="Fault currents, duties and reach that wait for the field are not known, and the checks that need them say "
    "nothing. Nothing else in the station's record is worth more to fill in.",
    basis="common practice, no source",
    asks="record",
    inputs=(
        "bus.nominal_voltage",
        "bus.ground_fault_clearing_time",
        "substation.frequency",
        "infeed.fault_level_3ph",
        "infeed.x_over_r",
        "infeed.fault_current_1ph",
        "infeed.grounded",
        "generator.xd_subtransient",
        "generator.winding",
        "transformer.vector_group",
        "transformer.impedance",
        "transformer.x_over_r",
        "transformer.hv_neutral",
        "transformer.lv_neutral",
        "transformer.tv_neutral",
        "transformer.core_form",
        "line.length",
        "line.r1",
        "line.x1",
        "line.r0",
        "line.x0",
        "switch.normal_state",
        "neutral_device.kind",
        "neutral_device.resistance",
        "neutral_device.reactance",
        "grounding_transformer.z0",
    ),
    policy={"limit": "record.blocked_quantities"},
    formula="n_blocked <= n_limit",
    query="""
        WITH field AS (
            SELECT blocking_substation AS substation, blocking_asset_kind AS asset_kind, blocking_asset AS asset, field,
                   count(DISTINCT (substation, asset_kind, asset, quantity)) AS quantities,
                   count(DISTINCT (substation, asset_kind, asset))           AS assets
            FROM study.blocked GROUP BY ALL
        ),
        waiting AS (
            SELECT * FROM field
            QUALIFY row_number() OVER (PARTITION BY substation ORDER BY quantities DESC, asset_kind, asset, field) = 1
        )
        SELECT s.substation,
               coalesce(w.quantities, 0)              AS actual,
               $limit                                 AS required,
               'quantities'                           AS unit,
               actual <= required                     AS ok,
               if(ok, 'substation', w.asset_kind)     AS asset_kind,
               if(ok, s.substation, w.asset)          AS asset,
               if(ok, NULL, w.field)                  AS field,
               if(ok, NULL, w.field)                  AS item,
               replace(w.asset_kind, '_', ' ')        AS kind,
               replace(w.field, '_', ' ')             AS fact,
               w.assets
        FROM inventory.substation s
        LEFT JOIN waiting w USING (substation)
    """,
    message="{fact} of {kind} {asset} is not on record; {actual} quantities of {assets} assets wait for it",
    working="n_blocked = {actual} > {required:g}",
    remedy="fill in {fact} of {kind} {asset} before anything else of this station",
    caution="What is not known is not safe.",
    cannot_see="Other fields that the same quantities wait for besides; they are listed with what is not assessable.",
    always_assessable=True,
    examples={
        "exception: one more than the limit": inventory(blocked(4)),
        "satisfied: exactly the limit": inventory(blocked(3)),
        "satisfied: few": inventory(blocked(1)),
        "satisfied: two fields of three each": inventory(blocked(3), blocked(3, "z0")),
        "exception: one field of a station is named": inventory(blocked(5), blocked(4, "z0")),
        "satisfied: blocked by another station": inventory(blocked(9, blocking_substation="ASH")),
        "satisfied: nothing is blocked": inventory(),
        "exception: 51 by the shipped limit": inventory(blocked(51)) | {"policy": {}},
    },
)
