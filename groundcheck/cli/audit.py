"""groundcheck audit."""

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from groundcheck.cli.progress import quiet_option
from groundcheck.cli.report_options import report_options

if TYPE_CHECKING:
    from groundcheck.report import Wishes

SEVERITIES = ("high", "medium", "low")


@click.command()
@click.argument("sources", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="SOURCE...")
@click.option("--out", default="audit_out", show_default=True, type=click.Path(path_type=Path), help="Report folder.")
@click.option("--store", type=click.Path(path_type=Path), help="Database file to keep; in memory if not given.")
@click.option("--policy", type=click.Path(path_type=Path), help="TOML file over the default policy.")
@click.option("--assume-nothing", is_flag=True, help="Use no typical value in place of one that is not on record.")
@click.option("--columns", type=click.Path(path_type=Path), help="Column map, as the columns command proposes it.")
@click.option("--rules", multiple=True, type=click.Path(path_type=Path), help="Folder of further rules; repeatable.")
@click.option(
    "--waivers",
    multiple=True,
    type=click.Path(path_type=Path),
    help="Waiver file (.toml), or exceptions.xlsx with findings accepted in it; repeatable, the later wins.",
)
@click.option(
    "--as-of",
    type=click.DateTime(("%Y-%m-%d",)),
    metavar="DATE",
    help="Day that decides what is overdue and which waivers hold, such as 2027-03-31; today if not given.",
)
@click.option("--workers", default=1, show_default=True, type=click.IntRange(min=1), help="Processes that read files.")
@report_options
@click.option(
    "--fail-on", type=click.Choice(SEVERITIES), help="Exit with status 1 on an open finding this severe or worse."
)
@quiet_option
@click.pass_context
def audit(
    ctx: click.Context,
    sources: tuple[Path, ...],
    out: Path,
    store: Path | None,
    policy: Path | None,
    assume_nothing: bool,
    columns: Path | None,
    rules: tuple[Path, ...],
    waivers: tuple[Path, ...],
    as_of: datetime | None,
    workers: int,
    wishes: "Wishes",
    fail_on: str | None,
    quiet: bool,
) -> None:
    """
    Read workbooks and csv files, and list the exceptions.

    SOURCE is a file or a folder. The report folder receives

    \b
      report.html              the fleet in pictures and tables, for a browser: open it first
      report_stations/         what report.html shows of each station, if the fleet is large
      exceptions.xlsx          what is wrong, and what could not be checked, each with its cell
      inspection_findings.pdf  a memorandum a district, to be reviewed and signed
      data_requests.xlsx       the cells that each district is asked to fill in
      findings.csv             the findings for a program
      outcomes.csv             how often each rule was satisfied, a station
      rulebook.html            every rule: what it asks, why, on whose authority, how it is worked out
      ingest_log.txt           what was read as what, and what was made of it
      annotated/               with --annotate: copies of the sources with the offending cells marked
      data/                    with --data: the tables as files for other programs

    \b
    Example:
      groundcheck audit sample_inventory --out audit_out --fail-on high
    """
    from groundcheck import pipeline
    from groundcheck.cli.overview_table import print_overview
    from groundcheck.cli.progress import shown_progress
    from groundcheck.policy import load_policy, override_policy
    from groundcheck.report import check_output_folder, write_reports
    from groundcheck.report.overview import findings_by_severity
    from groundcheck.waivers import gather_waivers

    in_force = load_policy(policy)
    if assume_nothing:
        in_force = override_policy(in_force, {"assume": {"any": False}})
    told = gather_waivers(waivers)
    check_output_folder(out, sources, told, [wishes.junit] if wishes.junit else [])
    with shown_progress(quiet) as progress:
        made = pipeline.audit(
            sources,
            store=store,
            policy=in_force,
            columns=columns,
            rules=rules,
            waivers=told,
            as_of=as_of.date() if as_of else None,
            workers=workers,
            progress=progress,
        )
        paths = write_reports(made.store, out, wishes, progress)
    print_overview(made.store, paths)
    counts = findings_by_severity(made.store)
    made.store.close()
    worse = SEVERITIES[: SEVERITIES.index(fail_on) + 1] if fail_on else ()
    ctx.exit(1 if any(counts.get(severity, 0) for severity in worse) else 0)
