"""groundcheck reports."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from groundcheck.cli.progress import quiet_option
from groundcheck.cli.report_options import report_options

if TYPE_CHECKING:
    from groundcheck.report import Wishes


@click.command()
@click.argument("file", type=click.Path(path_type=Path), metavar="STORE")
@click.option("--out", required=True, type=click.Path(path_type=Path), help="Report folder.")
@report_options
@quiet_option
def reports(file: Path, out: Path, wishes: "Wishes", quiet: bool) -> None:
    """
    Write the reports of the last audit that STORE holds again, without auditing.

    The folder receives what the audit command writes: report.html (of a large fleet with report_stations/),
    exceptions.xlsx, inspection_findings.pdf, data_requests.xlsx, findings.csv, outcomes.csv, rulebook.html,
    ingest_log.txt, and on request annotated/ and data/. --annotate needs the sources where they lay.

    \b
    Example:
      groundcheck reports audit.duckdb --out audit_out --sheet-by-district
    """
    from groundcheck.cli.files import open_kept
    from groundcheck.cli.progress import shown_progress
    from groundcheck.report import write_reports
    from groundcheck.report.cautions import CAUTION_LINE

    with open_kept(file) as store, shown_progress(quiet) as progress:
        paths = write_reports(store, out, wishes, progress)
    for path in paths:
        click.echo(path)
    click.echo(CAUTION_LINE)
