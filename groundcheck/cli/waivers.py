"""groundcheck waivers."""

from pathlib import Path

import click


@click.command()
@click.argument("sources", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="SOURCE...")
@click.option("--out", type=click.Path(path_type=Path), help="File to write or bring up to date; printed if not given.")
def waivers(sources: tuple[Path, ...], out: Path | None) -> None:
    """
    Collect the findings accepted in workbooks and waiver files into one waiver file.

    SOURCE is an exceptions.xlsx in which a person accepted findings, or a waiver file; of two that speak of one
    finding, the later counts. A waiver file that is there already is read first and brought up to date, so that
    version control shows what changed. Give it to the audit with --waivers.

    \b
    Example:
      groundcheck waivers audit_out/exceptions.xlsx --out waivers.toml
    """
    from groundcheck.cli.files import write_file
    from groundcheck.waivers import gather_waivers, merge_account, waivers_text

    before = gather_waivers([out] if out is not None and out.exists() else [])
    after = gather_waivers([*([out] if out is not None and out.exists() else []), *sources])
    text = waivers_text(after.waivers.values())
    if out is None:
        click.echo(text, nl=False)
        return
    write_file(out, text)
    for line in merge_account(before, after):
        click.echo(line)
    click.echo(f"{out}: groundcheck audit ... --waivers {out}")
