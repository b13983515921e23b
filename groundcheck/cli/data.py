"""groundcheck data."""

from pathlib import Path

import click

from groundcheck.cli.progress import quiet_option


@click.command()
@click.argument("file", type=click.Path(path_type=Path), metavar="STORE")
@click.option("--out", required=True, type=click.Path(path_type=Path), help="Folder to write to.")
@click.option(
    "--format",
    "formats",
    multiple=True,
    type=click.Choice(["parquet", "csv", "jsonl"]),
    help="Format of the files; repeat it for several. All of them if it is not given.",
)
@quiet_option
def data(file: Path, out: Path, formats: tuple[str, ...], quiet: bool) -> None:
    """
    Write the last audit of STORE as files for other programs.

    A file a table: findings, evidence, outcomes, results, rules, missing fields, waivers, changes, the inventory and
    the study. A JSON Schema for each, a data dictionary and a manifest stand beside them.

    \b
    Example:
      groundcheck data fleet.duckdb --out fleet_data --format parquet
    """
    from groundcheck.cli.files import open_kept
    from groundcheck.cli.progress import shown_progress
    from groundcheck.report.data_files import FORMATS, write_data

    with open_kept(file) as store, shown_progress(quiet) as progress:
        progress.stage("data files", None)
        written = write_data(store, out, formats or FORMATS)
    click.echo(f"{out}: {len(written)} files, listed in {written[-1].name}")
