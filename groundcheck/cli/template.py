"""groundcheck template."""

from pathlib import Path

import click


@click.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--dictionary", type=click.Path(path_type=Path), help="Write the data dictionary to this Markdown file.")
def template(file: Path | None, dictionary: Path | None) -> None:
    """
    Write a blank inventory workbook to FILE.

    A file that is already there is left alone: it may hold data.

    \b
    Example:
      groundcheck template inventory.xlsx --dictionary data_dictionary.md
    """
    from groundcheck.cli.files import make_file, write_file
    from groundcheck.errors import OutputFolderError
    from groundcheck.schema.dictionary import data_dictionary
    from groundcheck.schema.template import write_template

    if file is None and dictionary is None:
        raise click.UsageError("name the workbook to write, or --dictionary FILE")
    if file is not None:
        if file.exists():
            raise OutputFolderError(f"{file}: is already there and may hold data; name another file")
        make_file(file, lambda: write_template(file))
        click.echo(file)
    if dictionary is not None:
        write_file(dictionary, data_dictionary())
        click.echo(dictionary)
