"""groundcheck memorandum."""

from pathlib import Path

import click

from groundcheck.cli.progress import quiet_option


@click.command()
@click.argument("file", required=False, type=click.Path(path_type=Path), metavar="STORE")
@click.option("--station", "stations", multiple=True, metavar="NAME", help="Station to write about; may be repeated.")
@click.option("--district", "districts", multiple=True, metavar="NAME", help="District likewise.")
@click.option("--template", type=click.Path(path_type=Path), metavar="FILE.typ", help="Template in place of our own.")
@click.option("--print-template", is_flag=True, help="Print our own template, to be changed, and end.")
@click.option("--paper", default="a4", show_default=True, help="Paper: a4, us-letter.")
@click.option("--out", "path", type=click.Path(path_type=Path), metavar="FILE.pdf", help="File to write.")
@quiet_option
def memorandum(
    file: Path | None,
    stations: tuple[str, ...],
    districts: tuple[str, ...],
    template: Path | None,
    print_template: bool,
    paper: str,
    path: Path | None,
    quiet: bool,
) -> None:
    """
    Write memoranda of inspection findings as one PDF, to be reviewed and signed.

    STORE is a database that an audit kept. One memorandum is written for each station and district named, with all
    its findings in full; without any, one for each district of the fleet. Where the fleet has more than a thousand
    findings, its memoranda show some of the high ones in full and count the others, and say so.

    \b
    Example:
      groundcheck memorandum audit.duckdb --district Vale --out vale.pdf
    """
    from groundcheck.report.memorandum import PAPERS, shipped_template, write_memoranda

    if print_template:
        click.echo(shipped_template(), nl=False)
        return
    if file is None or path is None:
        raise click.UsageError("a STORE and --out FILE.pdf are needed, or --print-template")
    if paper not in PAPERS:
        raise click.BadParameter(f"{paper} is none of {', '.join(PAPERS)}", param_hint="--paper")
    from groundcheck.cli.files import make_file, open_kept
    from groundcheck.cli.progress import shown_progress

    if path.exists() and path.resolve() in [each.resolve() for each in (file, template) if each is not None]:
        raise click.UsageError(f"--out {path} would take the place of a file that is read; name another")
    with open_kept(file) as store, shown_progress(quiet) as progress:
        progress.stage("memoranda", None)
        make_file(
            path,
            lambda: write_memoranda(
                store, path, template=template, districts=districts, substations=stations, paper=paper
            ),
        )
    click.echo(f"{path}: memoranda to be reviewed and signed.")
