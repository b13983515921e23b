"""The sheet Waivers: every finding that a person accepted, and what has become of it since."""

from groundcheck.report.field_names import kind_in_words
from groundcheck.report.rows import fetch
from groundcheck.report.workbook.table_sheet import Field, TableSheet
from groundcheck.store import Store
from groundcheck.waivers.apply import gathered_in
from groundcheck.waivers.marks import AS_WRITTEN, FINDING, WAIVERS_SHEET, waiver_mark

FIELDS = (
    Field("state", 14, "wrap"),
    Field("what it rests on", 30, "wrap"),
    Field(FINDING, 12, "wrap"),
    Field("district", 12, "wrap"),
    Field("substation", 12, "wrap"),
    Field("asset kind", 14, "wrap"),
    Field("asset", 12, "wrap"),
    Field("item", 8, "wrap"),
    Field("rule", 22, "wrap"),
    Field("accepted by", 15, "wrap"),
    Field("reason", 40, "wrap"),
    Field("until", 11, "date"),
    Field("accepted on", 11, "date"),
    Field("severity then", 9, "wrap"),
    Field("actual then", 11, "value"),
    Field("required then", 11, "value"),
    Field("unit", 7, "wrap"),
    Field("actual now", 11, "value"),
    Field("required now", 11, "value"),
    Field("told in", 30, "wrap", aside=True),
    Field(AS_WRITTEN, 12, hidden=True),
)
STATES = {
    "in_force": "in force",
    "expired": "expired: open again",
    "worsened": "worse: open again",
    "finding_cleared": "finding is gone",
}
_QUERY = """
    SELECT w.state, w.remark, w.finding, s.district, w.substation, w.asset_kind, w.asset, w.item, w.rule, w.accepted_by,
           w.reason, w.until, w.accepted_on, w.severity, coalesce(w.actual_value::VARCHAR, w.actual),
           coalesce(w.required_value::VARCHAR, w.required), coalesce(w.unit, f.unit), f.actual, f.required,
           concat_ws(' · ', w.source_file, w.place)
    FROM audit.waiver w
    LEFT JOIN audit.finding f USING (finding)
    LEFT JOIN inventory.substation s ON s.substation = w.substation
    ORDER BY CASE w.state WHEN 'worsened' THEN 1 WHEN 'expired' THEN 2 WHEN 'in_force' THEN 3 ELSE 4 END,
             w.until, s.district, w.substation, w.asset, w.rule, w.finding
"""


def waivers_sheet(store: Store) -> TableSheet:
    """All waivers: those that no longer hold first, then those in force by their last day, then what is gone."""
    marks = {finding: waiver_mark(waiver) for finding, waiver in gathered_in(store).waivers.items()}
    rows = [
        (STATES.get(row[0], row[0]), *row[1:5], kind_in_words(row[5]), *row[6:], marks[row[2]])
        for row in fetch(store, _QUERY)
    ]
    return TableSheet(
        name=WAIVERS_SHEET,
        about="findings accepted, by whom, why, until when, and what has become of them",
        fields=FIELDS,
        rows=rows,
        empty="No finding was accepted: no waiver file was given, and no row of Exceptions says so.",
        frozen_columns=3,
    )
