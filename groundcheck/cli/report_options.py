"""What may be wished of the reports, alike for every command that writes them."""

from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import Any

import click

_OPTIONS = (
    click.option("--annotate", is_flag=True, help="Copies of the sources too, with the cells marked; takes long."),
    click.option("--sheet-by-district", is_flag=True, help="A sheet a district in exceptions.xlsx too."),
    click.option(
        "--data",
        multiple=True,
        type=click.Choice(["parquet", "csv", "jsonl"]),
        help="Tables for other programs in this format too; repeatable.",
    ),
    click.option(
        "--memo-template",
        type=click.Path(path_type=Path),
        metavar="FILE.typ",
        help="Template of the memoranda; memorandum --print-template shows our own.",
    ),
    click.option(
        "--junit",
        type=click.Path(path_type=Path),
        metavar="FILE.xml",
        help="What became of each rule at each station, as build servers read it.",
    ),
)


def report_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options, and call it with what they say as one value, `wishes`."""

    @wraps(command)
    def with_wishes(
        *arguments: Any,
        annotate: bool,
        sheet_by_district: bool,
        data: tuple[str, ...],
        memo_template: Path | None,
        junit: Path | None,
        **others: Any,
    ) -> Any:
        from groundcheck.report import Wishes

        wishes = Wishes(annotate, sheet_by_district, data, memo_template, junit)
        return command(*arguments, wishes=wishes, **others)

    for option in reversed(_OPTIONS):
        with_wishes = option(with_wishes)
    return with_wishes
