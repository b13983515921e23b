"""What this program's own files are known by, so that a report beside the records is never read as one of them."""

# Core property 'category' of a workbook; spreadsheet programs keep it.
REPORT = "groundcheck report"
TEMPLATE = "groundcheck template"

# Columns of findings.csv and outcomes.csv, and so their heading lines.
FINDING_COLUMNS = (
    "finding",
    "rule",
    "severity",
    "substation",
    "asset_kind",
    "asset",
    "message",
    "actual",
    "required",
    "unit",
    "provisional",
    "robustness",
    "source_file",
    "sheet",
    "cell",
    "status",
    "remedy",
    "waiver",
)
OUTCOME_COLUMNS = ("rule", "substation", "satisfied", "exceptions", "not_assessable", "not_applicable")
