"""groundcheck figure."""

from pathlib import Path

import click

KINDS = ("fleet", "margins", "blocking-fields", "trend", "one-line", "phasors")


@click.command()
@click.argument("kind", type=click.Choice(KINDS))
@click.option("--store", "file", required=True, type=click.Path(path_type=Path), help="Database that an audit kept.")
@click.option("--station", metavar="NAME", help="Station of a one-line diagram, or one in whose zones to look.")
@click.option("--zone", metavar="NAME", help="Grounding zone of the phasors, such as ELM:B33.")
@click.option("--dark", is_flag=True, help="On dark paper.")
@click.option(
    "--scale", type=click.FloatRange(0.5, 8), default=2.0, show_default=True, help="Pixels of a PNG for one of an SVG."
)
@click.option(
    "--out", "path", required=True, type=click.Path(path_type=Path), help="File to write; .svg or .png says which."
)
def figure(kind: str, file: Path, station: str | None, zone: str | None, dark: bool, scale: float, path: Path) -> None:
    """
    Draw a chart, a one-line diagram or phasors for a document.

    \b
    fleet            stations by district, by their worst open finding
    margins          actual values as a percentage of what is required, by rule
    blocking-fields  fields not on record that block most checks
    trend            findings of the audits that the store holds
    one-line         one-line diagram of a station; needs --station
    phasors          voltages to ground before and during a fault; needs --zone

    Prints a title, what the figure shows in words, and what is not drawn: text for a caption.

    \b
    Example:
      groundcheck figure fleet --store audit.duckdb --out fleet.svg
    """
    from groundcheck.cli.files import make_file
    from groundcheck.errors import OutputFolderError, StoreError
    from groundcheck.report.figures import make_figure
    from groundcheck.store import Store

    kind_of_file = path.suffix.lower()
    if kind_of_file not in (".svg", ".png"):
        raise OutputFolderError(f"{path}: a figure is written as .svg or .png; name such a file")
    if not file.is_file():
        raise StoreError(f"{file}: no such file; keep one with groundcheck audit ... --store {file}")
    with Store(file) as store:
        drawn = make_figure(store, kind, station=station, zone=zone, dark=dark)
    content = drawn.svg.encode() if kind_of_file == ".svg" else drawn.png(scale)
    make_file(path, lambda: path.write_bytes(content))
    for said in (f"{drawn.title}.", drawn.description, drawn.note, f"Written to {path}."):
        if said:
            click.echo(said)
