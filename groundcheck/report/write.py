"""All reports of an audit, written together."""

from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path

from groundcheck.ingest.collector import collector_at_rest
from groundcheck.progress import Progress, Silent, Within
from groundcheck.report.annotated import write_annotated
from groundcheck.report.beside import Beside
from groundcheck.report.csv_files import write_findings_csv, write_outcomes_csv
from groundcheck.report.data_files import write_data
from groundcheck.report.data_requests import write_data_requests
from groundcheck.report.folder import Writer, check_output_folder, place_files
from groundcheck.report.ingest_log import write_ingest_log
from groundcheck.report.junit import write_junit
from groundcheck.report.memorandum import write_memoranda
from groundcheck.report.page import write_page
from groundcheck.report.rows import fetch
from groundcheck.report.rulebook_page import write_rulebook_of_audit
from groundcheck.report.wishes import Wishes
from groundcheck.report.workbook import write_workbook
from groundcheck.store import Store
from groundcheck.waivers import gathered_in

# Above it another process, which takes a second to begin, is worth its while.
ALONE = 10_000


def write_reports(
    store: Store,
    folder: str | Path,
    wishes: Wishes | None = None,
    progress: Progress | None = None,
    *,
    beside: bool | None = None,
) -> list[Path]:
    """
    Write the reports, and tell where they are.

    With `beside` the exception workbook is written by another process, at the same time; if not said, with many
    findings.

    Raises
    ------
    OutputFolderError
        The folder can't be written, or a report would take the place of a source, of dispositions that a person wrote
        and the audit was not told, or of files that no audit wrote; earlier reports are left whole.
    TemplateError
        The owner's template of the memoranda does not compile.
    """
    wishes = wishes or Wishes()
    progress = progress or Silent()
    junit = [wishes.junit] if wishes.junit else []
    check_output_folder(folder, _sources_used(store), gathered_in(store), junit)
    if beside is None:
        beside = fetch(store, "SELECT count(*) FROM audit.finding")[0][0] > ALONE
    with ExitStack() as ended:
        if beside:
            ended.enter_context(collector_at_rest())
        writers = _writers(store, wishes, progress, ended.enter_context(Beside(store)) if beside else None)
        progress.stage("reports", len(writers) + len(junit))
        elsewhere: dict[Path, Writer] = {path: lambda made: write_junit(store, made) for path in junit}
        return place_files(folder, writers, elsewhere, progress)


def _writers(store: Store, wishes: Wishes, progress: Progress, beside: Beside | None) -> dict[str, Writer]:
    """What writes each report, the longest first."""
    copies: list[tuple[str, str]] = []  # filled by the copying, which comes before the log that tells of it

    def workbook(path: Path) -> Callable[[], None] | None:
        if beside is not None:
            return beside.start_workbook(path, wishes.sheet_by_district)
        write_workbook(store, path, sheet_by_district=wishes.sheet_by_district)
        return None

    writers: dict[str, Writer] = {
        "exceptions.xlsx": workbook,
        "report.html": lambda path: write_page(store, path, Within(progress, "report.html")),
        "inspection_findings.pdf": lambda path: write_memoranda(store, path, template=wishes.memo_template),
        "data_requests.xlsx": lambda path: write_data_requests(store, path),
        "findings.csv": lambda path: write_findings_csv(store, path),
        "outcomes.csv": lambda path: write_outcomes_csv(store, path),
        "rulebook.html": lambda path: write_rulebook_of_audit(store, path),
    }
    if wishes.annotate:
        writers["annotated"] = lambda path: copies.extend(write_annotated(store, path))
    writers["ingest_log.txt"] = lambda path: write_ingest_log(store, path, copies if wishes.annotate else None)
    if wishes.data:
        writers["data"] = lambda path: write_data(store, path, wishes.data)
    return writers


def _sources_used(store: Store) -> list[str]:
    """Where the files lay that gave records or answers; a data request that nobody filled in gave none."""
    query = """
        SELECT path FROM raw.file f
        WHERE path IS NOT NULL AND EXISTS (
            FROM raw.row r WHERE r.file = f.file AND r."use" IN ('inventory', 'quarantine'))
    """
    return [path for (path,) in fetch(store, query)]
