"""Current transformers of ground relays whose ratio does not fit what flows, or what is to be measured."""

from groundcheck.audit import Rule

RELAY = {"substation": "ELM", "ground_relay": "R1", "function": "51G", "measures": "NR1", "pickup": 40.0,
         "ct_primary": 400.0, "curve": "iec_standard_inverse"}  # fmt: skip
WATCH = {"substation": "ELM", "watcher_kind": "ground_relay", "watcher": "R1", "target_kind": "neutral_device",
         "target_substation": "ELM", "target": "NR1", "sees_current": True, "placed": True}  # fmt: skip
REACH = {"substation": "ELM", "ground_relay": "R1", "quantity_kind": "current"}
CT = {"substation": "ELM", "instrument_transformer": "CT1", "kind": "ct", "primary": 400.0}
AT_CT = WATCH | {"target_kind": "instrument_transformer", "target": "CT1"}


def inventory(most_a=8000.0, low=None, high=None, watch=WATCH, **relay):
    """One relay, what it measures, and the largest ground-fault current there, or its bounds; 20 and a tenth."""
    reach = {"largest_fault_a": most_a, "largest_fault_a_low": low, "largest_fault_a_high": high}
    tables = {"ground_relay": [RELAY | relay], "ground_watch": [watch], "instrument_transformer": [CT]}
    return tables | {"relay_reach": [REACH | reach], "policy": {"multiple": 20.0, "share": 0.1}}


RULE = Rule(
    title="The ratio of a ground relay's current transformer does not fit",
    severity="medium",
    why="A current transformer that is too small saturates in a ground fault, and its relay is later than its curve "
    "says or misjudges the fault. One that is too large for the pickup has the relay act on its error.",
    basis="IEC 61869-2, accuracy limit factor and ratio error of class 5P (recalled)",
    asks="ground_relay",
    inputs=(
        "ground_relay.ct_primary",
        "ground_relay.pickup",
        "ground_relay.function",
        "ground_relay.curve",
        "relay_reach.largest_fault_a",
    ),
    policy={
        "multiple": "ground_relay.accuracy_multiple",
        "share": "ground_relay.least_pickup_share",
        "differential": "ground_relay.differential_functions",
    },
    query="""
        WITH place AS (
            SELECT substation, watcher AS ground_relay,
                   bool_or(target_kind IN ('neutral_device', 'transformer', 'generator', 'grounding_transformer'))
                       AS in_neutral,
                   any_value({'home': target_substation, 'tag': target}) AS at
            FROM study.ground_watch
            WHERE watcher_kind = 'ground_relay' AND placed AND sees_current IS NOT FALSE GROUP BY ALL
        ),
        relay AS (
            SELECT r.*, m.largest_fault_a_low, m.largest_fault_a_high,
                   coalesce(m.largest_fault_a, m.largest_fault_a_low)   AS least_a,
                   coalesce(m.largest_fault_a, m.largest_fault_a_high)  AS most_a,
                   coalesce(r.ct_primary, i.primary)                    AS rated_a,
                   -- Saturation delays what runs by the size of the current; a definite time it leaves alone.
                   regexp_matches(upper(regexp_replace(r.function, '[ ._-]', '', 'g')), $differential)
                       OR CASE WHEN r.curve IS NOT NULL THEN NOT starts_with(r.curve, 'definite')
                               WHEN r.definite_time IS NOT NULL THEN FALSE END AS by_current,
                   unnest(if(p.in_neutral, ['largest current', 'pickup'], ['pickup'])) AS item
            FROM place p
            JOIN inventory.ground_relay r USING (substation, ground_relay)
            LEFT JOIN study.relay_reach m USING (substation, ground_relay)
            LEFT JOIN inventory.instrument_transformer i
              ON i.substation = p.at.home AND i.instrument_transformer = p.at.tag AND i.kind = 'ct'
            WHERE m.quantity_kind IS DISTINCT FROM 'voltage'
        )
        SELECT substation, 'ground_relay' AS asset_kind, ground_relay AS asset, item,
               item = 'largest current' AS from_above,
               rated_a * if(from_above, $multiple, $share) AS required,
               -- Where the function is not on record the pickup may be volts.
               CASE WHEN function IS NULL THEN NULL
                    WHEN NOT from_above THEN pickup >= required
                    WHEN most_a <= required THEN TRUE
                    WHEN least_a > required AND by_current THEN FALSE END AS ok,
               CASE WHEN NOT from_above THEN pickup WHEN ok IS FALSE THEN least_a ELSE most_a END AS actual,
               if(from_above, largest_fault_a_low, NULL)   AS actual_low,
               if(from_above, largest_fault_a_high, NULL)  AS actual_high,
               'A' AS unit, function, rated_a,
               if(from_above, 'at most', 'at least') AS side, if(from_above, 'at least', 'at most') AS ct_side,
               if(from_above, 'I_max', 'I_pickup') AS symbol, actual / nullif(rated_a, 0) AS times,
               if(from_above, $multiple, $share) AS limit_times, actual / nullif(limit_times, 0) AS fitting_a,
               [if(rated_a IS NULL, 'ground_relay.ct_primary', NULL),
                if(function IS NULL, 'ground_relay.function', NULL),
                if(pickup IS NULL AND NOT from_above, 'ground_relay.pickup', NULL),
                if(by_current IS NULL AND from_above, 'ground_relay.curve', NULL),
                if(from_above, 'relay_reach.largest_fault_a', NULL)] AS needs
        FROM relay
        WHERE item = 'pickup' OR by_current IS NOT FALSE
    """,
    message="{asset} ({function}) has a current transformer of {rated_a:g} A: its {item} is {actual:.5g} A, and {side} "
    "{required:.5g} A fits",
    formula="I_max <= m I_primary\nI_pickup >= e I_primary",
    working="{symbol} = {actual:.5g} A = {times} I_primary\n{side} {limit_times:g} x {rated_a:g} A = {required:.5g} A",
    remedy="a current transformer of {ct_side} {fitting_a} A rated primary, or proof that its class and burden fit",
    caution="Never open a current transformer's secondary in service.",
    cannot_see="Takes the accuracy limit at rated burden; a relay of small burden lets a current transformer go "
    "higher. At a bus or a line the largest current is not asked about: it is that of the zone, not of the place.",
    examples={
        "satisfied: exactly 20 times, and exactly a tenth": inventory(),
        "satisfied: 4 kA, pickup 80 A": inventory(4000.0, pickup=80.0),
        "exception: 8001 A through 400 A, pickup 39 A": inventory(8001.0, pickup=39.0),
        "exception: above the least on record": inventory(None, 4000.0, 8000.0, pickup=9.0, ct_primary=199.0),
        "satisfied: exactly the most that the record allows": inventory(None, 4000.0, 8000.0),
        "satisfied: 20 times not asked of a definite time": inventory(9000.0, curve="definite_time"),
        "satisfied: nor of a delay without a curve": inventory(9000.0, curve=None, definite_time=0.5),
        "exception: of a differential relay": inventory(9000.0, function="87N", curve="definite_time", pickup=39.0),
        "satisfied: neither curve nor delay on record, below the limit": inventory(curve=None),
        "exception: 39 A at a bus, by the transformer on record": inventory(watch=AT_CT, ct_primary=None, pickup=39.0),
        "satisfied: exactly a tenth at a bus": inventory(watch=AT_CT, ct_primary=None),
        "not assessable: primary not on record": inventory(ct_primary=None),
        "not assessable: function not on record": inventory(function=None),
        "not assessable: pickup not on record": inventory(watch=AT_CT, pickup=None),
        "not assessable: exactly the least allowed": inventory(None, 4000.0, 8000.0, ct_primary=200.0, pickup=None),
        "not assessable: time by curve or not, above the limit": inventory(9000.0, curve=None, pickup=None),
        "not assessable: current not computed": inventory(None, pickup=None),
        "not applicable: voltage relay": inventory() | {"relay_reach": [REACH | {"quantity_kind": "voltage"}]},
    },
)
