"""Assets whose last inspection of a kind was too long ago."""

from datetime import date

from groundcheck.audit import Rule

# 1 January 2022 to 1 January 2026, the date of the audit: exactly four years of 365.25 days.
TEST = {"substation": "ELM", "inspection": "I1", "asset": "R1", "kind": "relay_test", "date": date(2022, 1, 1)}
MADE = {"substation": "ELM", "asset_kind": "inspection", "asset": "I1", "field": "asset", "position": 1,
        "written": "R1", "target_kind": "ground_relay", "target_substation": "ELM", "target": "R1"}  # fmt: skip
RESISTOR = MADE | {"target_kind": "neutral_device", "target": "NR1"}
NR1 = {"substation": "ELM", "neutral_device": "NR1", "measured_resistance": 19.0, "measured_on": date(2024, 5, 1)}
LOST = MADE | {"target_kind": None, "target_substation": None, "target": None}
FOUR = {"visual": 4.0, "continuity": 4.0, "resistor": 4.0, "relay": 4.0}
KINDS = [{"kind": each} for each in ("visual", "continuity", "resistor_measurement", "relay_test")]


def on(year, kind="relay_test"):
    """An inspection at the beginning of a year."""
    return {"date": date(year, 1, 1), "kind": kind}


def inventory(*inspections, reference=MADE, policy=FOUR, **tables):
    """Inspections of one asset."""
    tests = [TEST | {"inspection": f"I{n}"} | each for n, each in enumerate(inspections)]
    mentions = [reference | {"asset": test["inspection"]} for test in tests]
    return {"inspection": tests, "reference": mentions, "policy": policy} | tables


RULE = Rule(
    title="An inspection is overdue",
    severity="medium",
    why="Neutral resistors break, bonds corrode and relays fail without a sign. The next ground fault is then not "
    "limited, not carried or not cleared, and nobody has looked.",
    basis="common practice; relay tests: NERC PRC-005-6 (recalled); the policy names the source of each interval",
    asks="record",
    inputs=("inspection.date", "inspection.kind", "neutral_device.measured_on"),
    policy={
        "visual": "inspection.visual_interval",
        "continuity": "inspection.continuity_interval",
        "resistor": "inspection.resistor_measurement_interval",
        "relay": "inspection.relay_test_interval",
    },
    formula="t_audit - t_inspected <= t_interval",
    query="""
        WITH made AS (
            SELECT r.target_substation AS substation, r.target_kind AS asset_kind, r.target AS asset, i.kind,
                   i.substation AS inspection_substation, i.inspection, i.date AS made_on,
                   date_diff('day', i.date, $audit_date) / 365.25 AS age
            FROM inventory.inspection i
            JOIN inventory.reference r ON r.asset_kind = 'inspection' AND r.field = 'asset'
                                      AND r.substation = i.substation AND r.asset = i.inspection
            WHERE r.target IS NOT NULL
        ),
        asked AS (
            SELECT DISTINCT substation, asset_kind, asset, kind, what, years
            FROM made
            JOIN (VALUES ('visual', 'visual inspection', $visual), ('continuity', 'continuity test', $continuity),
                         ('resistor_measurement', 'resistance measurement', $resistor),
                         ('relay_test', 'relay test', $relay)) v(kind, what, years) USING (kind)
        ),
        -- One of no kind or date may be the latest of the kind asked about.
        each_one AS (
            SELECT a.*, m.inspection, m.inspection_substation, m.made_on, m.kind IS NOT NULL AS sure,
                   (m.kind IS NULL OR m.made_on IS NULL) AND coalesce(m.age <= a.years, TRUE) AS doubt
            FROM asked a
            JOIN made m ON m.substation = a.substation AND m.asset_kind = a.asset_kind AND m.asset = a.asset
                       AND coalesce(m.kind, a.kind) = a.kind
        ),
        latest AS (
            SELECT substation, asset_kind, asset, kind, what, years,
                   max(made_on) FILTER (sure) AS inspected_on, bool_or(doubt) AS doubtful,
                   arg_max(struct_pack(s := inspection_substation, i := inspection), made_on) FILTER (sure) AS known,
                   any_value(struct_pack(s := inspection_substation, i := inspection)) FILTER (doubt) AS open
            FROM each_one GROUP BY ALL
        )
        SELECT l.substation, l.asset_kind, l.asset, l.kind AS item,
               l.kind = 'resistor_measurement' AS of_ohms,
               greatest(l.inspected_on, if(of_ohms, d.measured_on, NULL)) AS last_on,
               date_diff('day', last_on, $audit_date) / 365.25 AS actual,
               l.years                          AS required,
               'years'                          AS unit,
               of_ohms AND d.measured_resistance IS NOT NULL AND d.measured_on IS NULL AS undated,
               CASE WHEN actual <= required THEN TRUE WHEN NOT (l.doubtful OR undated) THEN FALSE END AS ok,
               if(ok IS NULL, l.open.i, l.known.i) AS inspection,
               if(ok IS NULL, l.open.s, l.known.s) AS inspection_substation,
               replace(l.asset_kind, '_', ' ')  AS kind_words,
               l.what,
               if(l.doubtful, ['inspection.date', 'inspection.kind'], ['neutral_device.measured_on']) AS needs
        FROM latest l
        LEFT JOIN inventory.neutral_device d
               ON l.asset_kind = 'neutral_device' AND d.substation = l.substation AND d.neutral_device = l.asset
    """,
    message="the last {what} of {kind_words} {asset} was {actual:.1f} years ago, on {last_on}; {required:g} years is "
    "the longest",
    working="last {what} {last_on}, audit {audit_date}\n{actual:.2f} years > {required:g} years",
    remedy="a {what} of {kind_words} {asset}, with date, value and outcome on record",
    caution="Isolate, prove dead and ground before opening what is inspected; a neutral can be live while its zone is.",
    cannot_see="Inspections that are not in the sources. Measurements of the mat are asked about by "
    "mat/measurement-overdue.",
    examples={
        "satisfied: the latest counts": inventory(on(2015), on(2025)),
        "satisfied: each kind, exactly its interval": inventory(*KINDS, reference=RESISTOR),
        "exception: each kind, a day more": inventory(
            *(each | {"date": date(2021, 12, 31)} for each in KINDS), reference=RESISTOR
        ),
        "exception: a relay test of eight years, by the shipped interval": inventory(on(2018), policy={}),
        "satisfied: the resistor's own record is later": inventory(
            on(2018, "resistor_measurement"), reference=RESISTOR, neutral_device=[NR1]
        ),
        "not assessable: the resistor's own record may be": inventory(
            on(2018, "resistor_measurement"), reference=RESISTOR, neutral_device=[NR1 | {"measured_on": None}]
        ),
        "exception: a measured resistor that nobody has looked at": inventory(
            on(2018, "visual"), reference=RESISTOR, neutral_device=[NR1 | {"measured_on": None}]
        ),
        "exception: nor lately": inventory(on(2018, "visual"), reference=RESISTOR, neutral_device=[NR1]),
        "not assessable: no date": inventory({"date": None}),
        "not assessable: one of several has no date": inventory(on(2015), {"date": None}),
        "satisfied: one has no date, another is recent": inventory(on(2025), {"date": None}),
        "not assessable: a recent one of no kind": inventory(on(2015), on(2022, None)),
        "exception: one of no kind is as old": inventory(on(2015), {"date": date(2021, 12, 31), "kind": None}),
        "not applicable: a kind with a rule of its own": inventory(on(2000, "grid_resistance")),
        "not applicable: the asset is not on record": inventory(on(2000), reference=LOST),
    },
)
