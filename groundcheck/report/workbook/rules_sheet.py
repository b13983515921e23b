"""The sheet Rules: what was asked, on whose authority, and how often it was answered."""

from groundcheck.report.overview import rule_counts
from groundcheck.report.rows import fetch
from groundcheck.report.workbook.table_sheet import Field, TableSheet
from groundcheck.store import Store


def rules_sheet(store: Store) -> TableSheet:
    """Every rule that ran or was refused."""
    texts = {
        rule: texts
        for rule, *texts in fetch(
            store,
            "SELECT rule, rulebook, why, formula, basis, caution, cannot_see, choices FROM audit.rule "
            "ORDER BY rule, problem NULLS LAST",
        )
    }
    rows = []
    for rule, severity, title, exceptions, satisfied, not_assessable, not_applicable, problem in rule_counts(store):
        rulebook, why, formula, basis, caution, cannot_see, choices = texts[rule]
        ran = f"refused: {problem}" if problem else "ran" + (f"; policy: {choices}" if choices else "")
        rows.append(
            (
                *(rule, severity, title, why, formula, basis, caution, cannot_see, ran),
                *(exceptions, satisfied, not_assessable, not_applicable, rulebook),
            )
        )
    counts = ("exceptions", "satisfied", "not assessable", "not applicable")
    fields = (
        Field("rule", 22, "wrap"),
        Field("severity", 9, "severity"),
        Field("the defect", 28, "wrap"),
        Field("why it matters", 44, "wrap"),
        Field("formula", 34, "wrap"),
        Field("basis", 28, "wrap"),
        Field("caution", 34, "wrap"),
        Field("what it cannot see", 34, "wrap"),
        Field("ran or refused", 16, "wrap"),
        *(Field(head, 9.5, "count") for head in counts),
        Field("rulebook", 20, "wrap", aside=True),
    )
    about = "what was asked, on whose authority, and how often it was answered"
    return TableSheet("Rules", about, fields, rows, "No rule was loaded.", frozen_columns=1)
