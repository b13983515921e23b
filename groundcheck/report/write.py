"""All reports of an audit, written together."""

from pathlib import Path

from groundcheck.report.csv_files import write_findings_csv, write_outcomes_csv
from groundcheck.report.folder import place_files
from groundcheck.report.workbook import write_workbook
from groundcheck.store import Store


def write_reports(store: Store, folder: str | Path) -> list[Path]:
    """
    Write exceptions.xlsx, findings.csv and outcomes.csv, and tell where they are.

    Raises
    ------
    OutputFolderError
        The folder can't be written; earlier reports are left whole.
    """
    return place_files(
        folder,
        {
            "exceptions.xlsx": lambda path: write_workbook(store, path),
            "findings.csv": lambda path: write_findings_csv(store, path),
            "outcomes.csv": lambda path: write_outcomes_csv(store, path),
        },
    )
