"""groundcheck finding."""

from pathlib import Path

import click


@click.command()
@click.argument("identity", metavar="ID")
@click.option("--store", "file", required=True, type=click.Path(path_type=Path), help="Database that an audit kept.")
def finding(identity: str, file: Path) -> None:
    """
    Show one finding with its working and its evidence.

    \b
    Example:
      groundcheck finding ID --store audit.duckdb
    """
    from groundcheck.errors import StoreError
    from groundcheck.report.finding_text import finding_text
    from groundcheck.store import Store

    if not file.is_file():
        raise StoreError(f"{file}: no such file; keep one with groundcheck audit ... --store {file}")
    with Store(file) as store:
        click.echo(finding_text(store, identity))
