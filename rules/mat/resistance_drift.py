"""Mats whose resistance has risen from one measurement to another."""

from datetime import date

from groundcheck.audit import Rule

GRID = {"substation": "ELM", "ground_grid": "M1", "measured_resistance": 0.5, "measured_on": date(2015, 5, 1)}
TEST = {"substation": "ELM", "inspection": "I1", "asset": "M1", "kind": "grid_resistance", "date": date(2024, 5, 1),
        "value": 0.75, "unit": "ohm"}  # fmt: skip
MADE = {"substation": "ELM", "asset_kind": "inspection", "asset": "I1", "field": "asset", "position": 1,
        "written": "M1", "target_kind": "ground_grid", "target_substation": "ELM", "target": "M1"}  # fmt: skip
UNDATED = {"measured_on": None}


def inventory(value=0.75, grid=None, rise=0.5, **fields):
    """A mat of 0.5 ohm, and an inspection nine years later."""
    tests = [TEST | {"value": value} | fields]
    mat = [GRID | (grid or {})]
    return {"ground_grid": mat, "inspection": tests, "reference": [MADE], "policy": {"rise": rise}}


def between(value, last=None, mat=None):
    """Two inspections after the record of the mat itself."""
    tests = [TEST | (last or {}), TEST | {"inspection": "I0", "date": date(2018, 5, 1), "value": value}]
    mentions = [MADE, MADE | {"asset": "I0"}]
    return {"ground_grid": [GRID | {"measured_resistance": mat}], "inspection": tests, "reference": mentions}


RULE = Rule(
    title="The resistance of the mat has risen",
    severity="medium",
    why="Conductors have corroded through or were cut, or shield wires were taken off. A ground fault raises the mat "
    "further above remote ground than the station was designed for, and parts of it may stand apart.",
    basis="common practice, no source",
    asks="ground_grid",
    inputs=(
        "ground_grid.measured_resistance",
        "ground_grid.measured_on",
        "inspection.value",
        "inspection.unit",
        "inspection.date",
        "inspection.kind",
    ),
    policy={"rise": "ground_grid.resistance_rise", "ohms": "inspection.ohm_words"},
    formula="R_last <= (1 + d) R_first",
    query="""
        WITH test AS (
            SELECT r.target_substation AS substation, r.target AS ground_grid, i.substation AS test_substation,
                   i.inspection, i.date AS made_on, i.value AS ohm,
                   i.kind IS NOT NULL AND i.date IS NOT NULL AND i.value IS NOT NULL AND i.unit IS NOT NULL AS whole
            FROM inventory.inspection i
            JOIN inventory.reference r ON r.asset_kind = 'inspection' AND r.field = 'asset'
                                      AND r.substation = i.substation AND r.asset = i.inspection
            WHERE coalesce(i.kind, 'grid_resistance') = 'grid_resistance' AND r.target_kind = 'ground_grid'
              AND (i.unit IS NULL OR list_contains($ohms, lower(trim(i.unit))))
        ),
        reading AS (
            SELECT substation, ground_grid, test_substation, inspection, made_on, ohm FROM test WHERE whole
            UNION ALL
            SELECT substation, ground_grid, NULL, NULL, measured_on, measured_resistance
            FROM inventory.ground_grid WHERE measured_resistance IS NOT NULL
        ),
        span AS (
            SELECT substation, ground_grid, min(ohm) AS least_ohm, max(ohm) AS most_ohm,
                   min(made_on) AS first_on, max(made_on) AS last_on,
                   arg_min(ohm, made_on) AS early_ohm, arg_max(ohm, made_on) AS late_ohm,
                   arg_max(inspection, made_on) AS late_test, arg_max(test_substation, made_on) AS late_station,
                   count(*) > count(made_on) AS undated
            FROM reading GROUP BY ALL HAVING count(inspection) > 0
        ),
        -- An inspection that lacks a part matters where it may be the first or the last.
        gap AS (
            SELECT s.substation, s.ground_grid,
                   any_value(struct_pack(s := t.test_substation, i := t.inspection)) AS open
            FROM span s
            JOIN test t ON t.substation = s.substation AND t.ground_grid = s.ground_grid AND NOT t.whole
            WHERE NOT coalesce(t.made_on > s.first_on AND t.made_on < s.last_on, FALSE)
            GROUP BY ALL
        )
        SELECT s.substation, 'ground_grid' AS asset_kind, s.ground_grid AS asset,
               s.late_ohm                      AS actual,
               s.early_ohm * (1 + $rise)       AS required,
               'ohm'                           AS unit,
               CASE WHEN NOT s.undated AND g.open IS NULL THEN actual <= required
                    WHEN g.open IS NULL AND s.most_ohm <= s.least_ohm * (1 + $rise) THEN TRUE END AS ok,
               s.early_ohm, s.first_on, s.last_on,
               coalesce(g.open.i, s.late_test) AS inspection,
               coalesce(g.open.s, s.late_station) AS inspection_substation,
               if(g.open IS NULL, ['ground_grid.measured_on'],
                  ['inspection.value', 'inspection.unit', 'inspection.date', 'inspection.kind']) AS needs
        FROM span s
        LEFT JOIN gap g USING (substation, ground_grid)
        WHERE s.first_on < s.last_on OR s.undated
    """,
    message="mat {asset} measured {actual:g} ohm on {last_on}, after {early_ohm:g} ohm on {first_on}",
    working="R_first = {early_ohm:g} ohm on {first_on}\nR_last = {actual:g} ohm on {last_on}\n"
    "(1 + {rise:g}) x {early_ohm:g} ohm = {required} ohm < {actual:g} ohm",
    remedy="measure again in the season of the first measurement; if it is still above {required} ohm, test the "
    "mat's continuity and dig where it is broken",
    caution="Parts of a broken mat may stand at different voltages: keep to insulating footing when testing.",
    cannot_see="Whether both were measured by one method, in one season, and with the same wires connected.",
    examples={
        "satisfied: exactly the rise that is admitted": inventory(),
        "exception: a little more": inventory(0.76),
        "satisfied: it has fallen": inventory(0.2),
        "exception: the shipped half": inventory(0.8) | {"policy": {}},
        "satisfied: between two inspections": between(0.5),
        "exception: between two inspections": between(0.3),
        "satisfied: near one another, whichever was first": inventory(0.6, UNDATED),
        "satisfied: undated, exactly the admitted fall": inventory(0.5, UNDATED | {"measured_resistance": 0.75}),
        "satisfied: undated, exactly the admitted rise": inventory(0.75, UNDATED),
        "not assessable: apart, and which was first is not on record": inventory(0.9, UNDATED),
        "not assessable: apart the other way": inventory(0.2, UNDATED),
        **{
            f"not assessable: no {part} of the latest inspection": between(0.4, {part: None}, 0.5)
            for part in ("value", "unit", "date", "kind")
        },
        "exception: a gap between first and last does not matter": between(None, {"value": 0.8}, 0.5),
        "not applicable: measured once": {"ground_grid": [GRID]},
        "not applicable: the inspection is what the mat's record holds": inventory(0.5, date=date(2015, 5, 1)),
        "not applicable: an inspection in another unit": inventory(60.0, unit="V"),
    },
)
