"""All reports of an audit, written together."""

from collections.abc import Callable
from pathlib import Path

from groundcheck.report.annotated import write_annotated
from groundcheck.report.csv_files import write_findings_csv, write_outcomes_csv
from groundcheck.report.data_requests import write_data_requests
from groundcheck.report.folder import check_output_folder, place_files
from groundcheck.report.ingest_log import write_ingest_log
from groundcheck.report.rows import fetch
from groundcheck.report.rulebook_page import write_rulebook_of_audit
from groundcheck.report.workbook import write_workbook
from groundcheck.store import Store
from groundcheck.waivers import gathered_in


def write_reports(store: Store, folder: str | Path, annotate: bool = False) -> list[Path]:
    """
    Write the reports, and tell where they are; with `annotate`, the folder of marked copies of the sources too.

    Raises
    ------
    OutputFolderError
        The folder can't be written, or a report would take the place of a source, or of dispositions that a person
        wrote and the audit was not told; earlier reports are left whole.
    """
    check_output_folder(folder, _sources_used(store), gathered_in(store))
    copies: list[tuple[str, str]] = []  # filled by the copying, which comes before the log that tells of it
    writers: dict[str, Callable[[Path], object]] = {
        "exceptions.xlsx": lambda path: write_workbook(store, path),
        "data_requests.xlsx": lambda path: write_data_requests(store, path),
        "findings.csv": lambda path: write_findings_csv(store, path),
        "outcomes.csv": lambda path: write_outcomes_csv(store, path),
        "rulebook.html": lambda path: write_rulebook_of_audit(store, path),
    }
    if annotate:
        writers["annotated"] = lambda path: copies.extend(write_annotated(store, path))
    writers["ingest_log.txt"] = lambda path: write_ingest_log(store, path, copies if annotate else None)
    return place_files(folder, writers)


def _sources_used(store: Store) -> list[str]:
    """Where the files lay that gave records or answers; a data request that nobody filled in gave none."""
    query = """
        SELECT path FROM raw.file f
        WHERE path IS NOT NULL AND EXISTS (
            FROM raw.row r WHERE r.file = f.file AND r."use" IN ('inventory', 'quarantine'))
    """
    return [path for (path,) in fetch(store, query)]
