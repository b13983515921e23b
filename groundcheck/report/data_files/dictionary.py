"""The data dictionary that goes with the files: every table and column, and how each format writes a value."""

from groundcheck.report.data_files.json_schema import may_be_null
from groundcheck.report.data_files.tables import DATA_TABLES, FORMAT_VERSION, DataTable
from groundcheck.schema.table import SQL_TYPES

_HEAD = f"""# Data dictionary

Data files of format version {FORMAT_VERSION}. The major number is raised when a table or column goes or changes its
meaning; the minor one when something is added, so that a reader must bear tables and columns it does not know.
Each table has its file (`NAME.parquet`, `NAME.csv`, `NAME.jsonl`) and its JSON Schema (`schema/NAME.json`);
`manifest.json` tells which files there are, of which audit, with how many rows.

| value | Parquet | CSV | JSON Lines |
| --- | --- | --- | --- |
| not on record | null | nothing between the commas | null |
| empty text | empty text | `""` | `""` |
| infinite (no time limit, no upper end) | infinity | `inf`, `-inf` | `"Infinity"`, `"-Infinity"` |
| yes or no | boolean | `true`, `false` | true, false |
| day | date | `2026-01-31` | `"2026-01-31"` |
| several values | list | parted by `; ` | array |
| text | as it is | as a cell holds it | as it is |

A text in CSV is without control characters and cut to the 32,767 characters that a cell holds; an apostrophe stands
before what a spreadsheet program would take for a formula.

All files are in UTF-8. Rows stand in a fixed order: audits that find the same give the same rows in the same order, and
the same CSV and JSON Lines to the byte.
`findings.csv` and `outcomes.csv` of the report folder have the same columns under the same names, fewer of them.
"""


def dictionary_page() -> str:
    """The whole page, as Markdown."""
    return _HEAD + "".join(_section(table) for table in DATA_TABLES.values())


def _section(table: DataTable) -> str:
    lines = ["", f"## {table.name}", "", table.model.summary(), ""]
    lines += ["| column | type | unit | may be blank | description |", "| --- | --- | --- | --- | --- |"]
    for name, column in table.columns.items():
        blank = "yes" if may_be_null(table, name) else "no"
        said = column.description + (f" One of: {', '.join(column.accepted)}." if column.accepted else "")
        cells = (name, SQL_TYPES[column.kind], column.unit or "", blank, said)
        lines.append("| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |")
    return "\n".join(lines) + "\n"
