"""Mats whose resistance was measured too long ago."""

from datetime import date

from groundcheck.audit import Rule

GRID = {"substation": "ELM", "ground_grid": "M1", "measured_resistance": 0.4, "measured_on": date(2022, 1, 1)}
FOUR = {"years": 4.0}  # 1 January 2022 to 1 January 2026, the date of the audit: exactly four years of 365.25 days
TEST = {"substation": "ELM", "inspection": "I1", "asset": "M1", "kind": "grid_resistance"}
MADE = {"substation": "ELM", "asset_kind": "inspection", "asset": "I1", "field": "asset", "position": 1,
        "written": "M1", "target_kind": "ground_grid", "target_substation": "ELM", "target": "M1"}  # fmt: skip


def inventory(measured_on=None, tested_on=None, years=FOUR, kind="grid_resistance", **fields):
    """A mat, and an inspection of it."""
    tests = {} if tested_on is None else {"inspection": [TEST | {"date": tested_on, "kind": kind}], "reference": [MADE]}
    return {"ground_grid": [GRID | {"measured_on": measured_on} | fields], "policy": years} | tests


RULE = Rule(
    title="The resistance of the mat was measured too long ago",
    severity="low",
    why="Mats corrode and are cut by digging, and nothing above ground shows it. Rise and touch voltages are then "
    "judged by a resistance that the mat no longer has.",
    basis="common practice, no source; IEEE Std 81 says how to measure",
    asks="ground_grid",
    inputs=("ground_grid.measured_on", "inspection.date", "inspection.kind"),
    policy={"years": "ground_grid.measurement_interval"},
    formula="t_audit - t_measured <= t_interval",
    query="""
        WITH tested AS (
            SELECT r.target_substation AS substation, r.target AS ground_grid,
                   max(i.date) FILTER (i.kind IS NOT NULL) AS tested_on,
                   -- One of no date or kind may be a later measurement.
                   any_value(struct_pack(s := i.substation, i := i.inspection)) FILTER (
                       (i.date IS NULL OR i.kind IS NULL)
                       AND coalesce(date_diff('day', i.date, $audit_date) / 365.25 <= $years, TRUE)) AS open
            FROM inventory.inspection i
            JOIN inventory.reference r ON r.asset_kind = 'inspection' AND r.field = 'asset'
                                      AND r.substation = i.substation AND r.asset = i.inspection
            WHERE coalesce(i.kind, 'grid_resistance') = 'grid_resistance' AND r.target_kind = 'ground_grid'
            GROUP BY ALL
        )
        SELECT g.substation, 'ground_grid' AS asset_kind, g.ground_grid AS asset,
               greatest(g.measured_on, t.tested_on)              AS last_on,
               date_diff('day', last_on, $audit_date) / 365.25   AS actual,
               $years                                            AS required,
               'years'                                           AS unit,
               t.open IS NOT NULL OR g.measured_resistance IS NOT NULL AND g.measured_on IS NULL AS doubtful,
               CASE WHEN actual <= required THEN TRUE WHEN NOT doubtful THEN FALSE END AS ok,
               t.open.i AS inspection, t.open.s AS inspection_substation,
               if(t.open IS NULL, ['ground_grid.measured_on'], ['inspection.date', 'inspection.kind']) AS needs
        FROM inventory.ground_grid g
        LEFT JOIN tested t USING (substation, ground_grid)
        WHERE coalesce(g.measured_on, t.tested_on) IS NOT NULL OR doubtful
    """,
    message="the resistance of mat {asset} was last measured on {last_on}, {actual:.1f} years ago; {required:g} years "
    "is the longest",
    working="last measured {last_on}, audit {audit_date}\n{actual:.2f} years > {required:g} years",
    remedy="measure the resistance of mat {asset}, best by fall of potential, and note what was connected to it",
    caution="Test leads and remote probes can rise to the mat's voltage in a fault: no measuring while a thunderstorm "
    "or switching threatens.",
    cannot_see="Whether the measurement was sound: shield wires and cable sheaths that stayed connected lower it. "
    "A mat without any measurement is asked about by inspection/never-done.",
    examples={
        "exception: a day too long ago": inventory(date(2021, 12, 31)),
        "satisfied: exactly the interval": inventory(date(2022, 1, 1)),
        "satisfied: measured last year": inventory(date(2025, 3, 1)),
        "exception: the shipped ten years": inventory(date(2015, 12, 1), years={}),
        "satisfied: inspected since": inventory(date(2012, 1, 1), date(2024, 6, 1)),
        "satisfied: by inspection alone": inventory(None, date(2024, 6, 1), measured_resistance=None),
        "exception: neither is recent": inventory(date(2012, 1, 1), date(2016, 6, 1)),
        "satisfied: nine years of ten": inventory(date(2017, 1, 1), years={}),
        "exception: twelve years of ten": inventory(date(2014, 1, 1), years={}),
        "not assessable: measured, no date": inventory(),
        "not assessable: inspected long ago, measured on no date": inventory(None, date(2010, 1, 1)),
        "not assessable: measured long ago, an inspection of no date": inventory(date(2010, 1, 1))
        | {"inspection": [TEST], "reference": [MADE]},
        "not assessable: measured long ago, a recent inspection of no kind": inventory(
            date(2010, 1, 1), date(2022, 1, 1), kind=None
        ),
        "exception: an inspection of no kind is as old": inventory(date(2010, 1, 1), date(2021, 12, 31), kind=None),
        "exception: inspected long ago, nothing else": inventory(None, date(2010, 1, 1), measured_resistance=None),
        "not applicable: never measured": inventory(measured_resistance=None),
    },
)
