"""Ground detectors on a broken delta whose relay picks up late, or not at all."""

from groundcheck.audit import Rule

DETECTOR = {"substation": "ELM", "ground_detector": "GD1", "bus": "B1", "method": "broken_delta",
            "instrument_transformer": "VT1", "relay": "R1"}  # fmt: skip
OUTPUT = {"substation": "ELM", "asset_kind": "ground_detector", "asset": "GD1", "relay": "ELM:R1", "zone": "ELM:B1",
          "residual_kv": 11.43, "relay_pickup_v": 5715.0, "pickup_share": 0.5}  # fmt: skip


def inventory(share=0.5, low=None, high=None, most=0.5, output=OUTPUT, **detector):
    """A detector, and the share of its voltage in a solid fault at which its relay picks up, or its bounds."""
    row = output | {"pickup_share": share, "pickup_share_low": low, "pickup_share_high": high}
    return {"ground_detector": [DETECTOR | detector], "detector_output": [row], "policy": {"most": most}}


RULE = Rule(
    title="A ground detector's relay picks up at too much of the voltage of a solid ground fault",
    severity="medium",
    why="A tree, a wet insulator or damaged insulation makes a ground fault with resistance and less voltage than a "
    "solid one. A relay set for solid faults lets it stand until it is one, or until a second joins it.",
    basis="common practice, no source (pickup of 10 to 30 % of the residual voltage)",
    asks="ground_detector",
    inputs=(
        "ground_detector.relay",
        "ground_detector.instrument_transformer",
        "ground_relay.pickup",
        "detector_output.pickup_share",
    ),
    policy={"most": "ground_detector.pickup_share"},
    query="""
        SELECT d.substation, 'ground_detector' AS asset_kind, d.ground_detector AS asset,
               coalesce(o.pickup_share, o.pickup_share_low)   AS least,
               coalesce(o.pickup_share, o.pickup_share_high)  AS greatest,
               $most                                          AS required,
               CASE WHEN greatest <= required THEN TRUE
                    WHEN least > required THEN FALSE END      AS ok,
               if(ok IS FALSE, least, greatest)               AS actual,
               o.pickup_share_low AS actual_low, o.pickup_share_high AS actual_high, 'pu' AS unit,
               o.residual_kv, o.relay_pickup_v, o.relay AS ground_relay, o.residual_kv * required AS highest_kv,
               ['detector_output.pickup_share',
                if(o.relay IS NOT NULL, 'ground_relay.pickup', 'ground_detector.relay'),
                if(o.relay IS NOT NULL, NULL, 'ground_detector.instrument_transformer')] AS needs
        FROM inventory.ground_detector d
        LEFT JOIN study.detector_output o
          ON o.substation = d.substation AND o.asset = d.ground_detector AND o.asset_kind = 'ground_detector'
        WHERE d.method = 'broken_delta'
    """,
    message="{ground_relay} behind {asset} picks up at {actual:.0%} of the voltage of a solid ground fault; "
    "{required:.0%} is the most",
    formula="U_pickup / 3V0 <= s",
    working="3V0 of a solid fault = {residual_kv} kV\nU_pickup = {relay_pickup_v} V primary\n"
    "U_pickup / 3V0 = {actual:.2f}\ns = {required:.2f}",
    remedy="pickup of {highest_kv} kV primary (3V0) or less, above the residual voltage of the sound network",
    caution="Set it above what voltage transformers, switching and unbalance give without a fault: measure that first.",
    cannot_see="Lamps and insulation monitors have no pickup on record and are not asked about.",
    examples={
        "exception: 51 %": inventory(0.51),
        "satisfied: exactly half": inventory(),
        "satisfied: 10 %": inventory(0.1),
        "exception: half met, 30 % asked": inventory(most=0.3),
        "satisfied: exactly the most that the record allows": inventory(None, 0.3, 0.5),
        "exception: above the least that the record allows": inventory(None, 0.51, 0.9),
        "not assessable: exactly the least that the record allows": inventory(None, 0.5, 0.9),
        "not assessable: pickup not on record": inventory(None, output=OUTPUT | {"relay_pickup_v": None}),
        "not assessable: no relay on record for it": inventory(None, output=OUTPUT | {"relay": None}, relay=None),
        "not assessable: neither relay nor voltage transformer": inventory(
            None, output=OUTPUT | {"relay": None}, relay=None, instrument_transformer=None
        ),
        "not assessable: voltage not computed": {"ground_detector": [DETECTOR | {"relay": None}]},
        "not applicable: lamps": inventory(0.9, method="lamps"),
        "not applicable: insulation monitor": inventory(0.9, method="insulation_monitor"),
    },
)
