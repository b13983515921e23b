"""groundcheck columns."""

from pathlib import Path

import click

from groundcheck.cli.progress import quiet_option


@click.command()
@click.argument("sources", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="SOURCE...")
@click.option("--out", type=click.Path(path_type=Path), help="File to write; printed if not given.")
@quiet_option
def columns(sources: tuple[Path, ...], out: Path | None, quiet: bool) -> None:
    """
    Propose a column map: which heading feeds which field.

    Edit the proposal and give it to the audit with --columns.

    \b
    Example:
      groundcheck columns sample_inventory --out columns.toml
    """
    from groundcheck.cli.files import write_file
    from groundcheck.cli.progress import shown_progress
    from groundcheck.ingest import propose_columns

    with shown_progress(quiet) as progress:
        text = propose_columns(sources, progress)
    if out is None:
        click.echo(text, nl=False)
        return
    write_file(out, text)
    click.echo(f"{out}: check it, then groundcheck audit ... --columns {out}")
