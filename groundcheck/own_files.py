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

# The sheets of exceptions.xlsx that every one has; others in it hold the findings of a district.
WORKBOOK_SHEETS = (
    "Summary",
    "Exceptions",
    "Waivers",
    "Changes",
    "Evidence",
    "Not assessable",
    "Fields to ask for",
    "Questions",
    "Quarantine",
    "Unread cells",
    "Noted cells",
    "Contradictions",
    "References",
    "Headings",
    "Account",
    "Assumptions",
    "Left out",
    "Rules",
    "Source rows",
    "Method and cautions",
)
