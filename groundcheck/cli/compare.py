"""groundcheck compare."""

from contextlib import ExitStack
from pathlib import Path

import click

from groundcheck.cli.audit import SEVERITIES
from groundcheck.cli.progress import quiet_option


@click.command()
@click.argument("stores", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="STORE [STORE]")
@click.option("--from", "before", type=click.IntRange(min=1), help="Number of the earlier audit of one STORE.")
@click.option("--to", "after", type=click.IntRange(min=1), help="Number of the later audit of one STORE.")
@click.option("--audits", "list_audits", is_flag=True, help="List the audits that STORE holds.")
@click.option("--out", type=click.Path(path_type=Path), help="File for all of it: .csv.")
@click.option("--fail-on", type=click.Choice(SEVERITIES), help="Exit with status 1 on a new or worsened one so severe.")
@quiet_option
@click.pass_context
def compare(
    ctx: click.Context,
    stores: tuple[Path, ...],
    before: int | None,
    after: int | None,
    list_audits: bool,
    out: Path | None,
    fail_on: str | None,
    quiet: bool,
) -> None:
    """
    Tell which findings are new, worsened, improved, persisting or cleared, and why.

    One STORE: its last two audits, or those that --from and --to name. Two: the last audit of each, the earlier first.

    \b
    Example:
      groundcheck compare fleet.duckdb
    """
    from groundcheck.cli.progress import shown_progress
    from groundcheck.errors import StoreError
    from groundcheck.history import compare_latest, compare_runs, past_runs
    from groundcheck.report.change_text import audits_text, changes_text
    from groundcheck.report.csv_files import write_changes_csv
    from groundcheck.store import Store

    if len(stores) > 2:
        raise click.UsageError("name one store or two")
    if len(stores) == 2 and (before or after):
        raise click.UsageError("--from and --to are for the audits of one store")
    with ExitStack() as opened:
        kept = []
        for file in stores:
            if not file.is_file():
                raise StoreError(f"{file}: no such file; keep one with groundcheck audit ... --store {file}")
            kept.append(opened.enter_context(Store(file)))
        if list_audits:
            click.echo("\n".join(audits_text(past_runs(store)) for store in kept))
            return
        with shown_progress(quiet) as progress:
            progress.stage("comparing", None)
            changes = compare_latest(*kept) if len(kept) == 2 else compare_runs(kept[0], before, after)
    click.echo(changes_text(changes))
    if out is not None:
        write_changes_csv(changes, out)
        click.echo(out)
    worse = SEVERITIES[: SEVERITIES.index(fail_on) + 1] if fail_on else ()
    raised = changes[changes["change"].isin(["new", "worsened"]) & changes["severity"].isin(worse)]
    ctx.exit(1 if len(raised) else 0)
