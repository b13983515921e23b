"""Assets that failed their last inspection of a kind."""

from datetime import date

from groundcheck.audit import Rule

TEST = {"substation": "ELM", "inspection": "I1", "asset": "R1", "kind": "relay_test", "date": date(2022, 1, 1)}
MADE = {"substation": "ELM", "asset_kind": "inspection", "asset": "I1", "field": "asset", "position": 1,
        "written": "R1", "target_kind": "ground_relay", "target_substation": "ELM", "target": "R1"}  # fmt: skip
LATER, LATEST = {"date": date(2023, 1, 1)}, {"date": date(2024, 1, 1)}
FAILED, PASSED = {"outcome": "failed"}, {"outcome": "passed"}


def inventory(*inspections, reference=MADE):
    """Inspections of one asset."""
    tests = [TEST | {"inspection": f"I{n}"} | each for n, each in enumerate(inspections)]
    return {"inspection": tests, "reference": [reference | {"asset": test["inspection"]} for test in tests]}


RULE = Rule(
    title="The last inspection failed and no later one passed",
    severity="medium",
    why="A defect is known and, as far as the record tells, still there. What was inspected may not limit, carry or "
    "clear the next ground fault.",
    basis="common practice, no source",
    asks="record",
    inputs=("inspection.outcome", "inspection.date", "inspection.kind"),
    query="""
        WITH made AS (
            SELECT r.target_substation AS substation, r.target_kind AS asset_kind, r.target AS asset, i.kind,
                   i.substation AS inspection_substation, i.inspection, i.date AS made_on, i.outcome, i.remark,
                   coalesce(s.district, '') AS district
            FROM inventory.inspection i
            JOIN inventory.reference r ON r.asset_kind = 'inspection' AND r.field = 'asset'
                                      AND r.substation = i.substation AND r.asset = i.inspection
            LEFT JOIN inventory.substation s ON s.substation = i.substation
            WHERE r.target IS NOT NULL
        ),
        judged AS (SELECT DISTINCT district FROM made WHERE outcome IS NOT NULL),
        asked AS (
            SELECT m.substation, m.asset_kind, m.asset, m.kind, max(m.made_on) AS last_on
            FROM made m JOIN judged USING (district) WHERE m.kind IS NOT NULL GROUP BY ALL
        ),
        -- Those of which none is known to be later; one of no kind or date may be the latest of the kind asked about.
        last_one AS (
            SELECT a.*, m.inspection, m.inspection_substation, m.made_on, m.outcome, m.remark,
                   m.kind IS NULL OR m.made_on IS NULL AS doubt
            FROM asked a
            JOIN made m ON m.substation = a.substation AND m.asset_kind = a.asset_kind AND m.asset = a.asset
                       AND coalesce(m.kind, a.kind) = a.kind
            WHERE coalesce(m.made_on >= a.last_on, TRUE)
        ),
        answer AS (
            SELECT substation, asset_kind, asset, kind,
                   bool_or(outcome = 'failed') AS any_failed, bool_or(outcome = 'passed') AS any_passed,
                   count(*) = count(outcome) AS all_judged, bool_or(doubt) AS doubtful,
                   arg_max(struct_pack(s := inspection_substation, i := inspection, at := made_on, remark := remark),
                           if(outcome = 'failed', 1, 0)) AS worst,
                   arg_max(struct_pack(s := inspection_substation, i := inspection),
                           if(outcome IS NULL, 1 + 1, if(doubt, 1, 0))) AS open
            FROM last_one GROUP BY ALL
        )
        SELECT substation, asset_kind, asset, kind AS item,
               coalesce(any_failed, FALSE) AS failed, coalesce(any_passed, FALSE) AS passed,
               CASE WHEN all_judged AND NOT failed THEN TRUE
                    WHEN failed AND NOT doubtful THEN FALSE
                    WHEN all_judged AND NOT passed THEN FALSE END AS ok,
               if(failed, 'failed', 'passed')   AS actual,
               'passed'                         AS required,
               ''                               AS unit,
               if(ok IS NULL, open.i, worst.i)  AS inspection,
               if(ok IS NULL, open.s, worst.s)  AS inspection_substation,
               worst.at                         AS failed_on,
               coalesce('; remark: ' || worst.remark, '') AS noted,
               replace(asset_kind, '_', ' ')    AS kind_words,
               replace(kind, '_', ' ')          AS what
        FROM answer
    """,
    message="{kind_words} {asset} failed its inspection ({what}) of {failed_on}, number {inspection}{noted}",
    working="latest on record ({what}): {inspection}, {failed_on}\noutcome {actual}, required {required}",
    remedy="mend {kind_words} {asset}, repeat the inspection ({what}), and put the outcome on record",
    caution="Until it is mended, take {asset} for out of order: what it limits, carries or clears is not safe.",
    cannot_see="Repairs that no inspection followed, and what an inspector wrote as a remark only.",
    examples={
        "exception: failed": inventory(FAILED),
        "exception: failed after it had passed": inventory(PASSED, FAILED | LATER),
        "satisfied: passed": inventory(PASSED),
        "satisfied: cleared by a later one": inventory(FAILED, PASSED | LATER),
        "exception: one of two on the same day": inventory(PASSED, FAILED),
        "exception: one of two on the same day, the other not judged": inventory({}, FAILED),
        "not assessable: the latest is not judged": inventory(FAILED, LATER),
        "not assessable: one of two on the same day is not judged": inventory(PASSED, {}),
        "not assessable: one without date failed": inventory(PASSED, FAILED | {"date": None}),
        "satisfied: one without date passed too": inventory(PASSED, PASSED | {"date": None}),
        "exception: one without date failed too": inventory(FAILED, FAILED | {"date": None}),
        "not assessable: a later one of no kind passed": inventory(FAILED, PASSED | LATER | {"kind": None}),
        "not assessable: one of no kind on the same day passed": inventory(FAILED, PASSED | {"kind": None}),
        "exception: one of no kind passed before": inventory(FAILED | LATER, PASSED | {"kind": None}),
        "satisfied: a passed one of no kind is older": inventory(PASSED | LATEST, FAILED | LATER | {"kind": None}),
        "not applicable: the district judges no inspection": inventory({}),
        "not applicable: no inspection on record": {"inspection": []},
    },
)
