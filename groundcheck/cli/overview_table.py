"""What the terminal shows at the end of an audit."""

from collections.abc import Sequence
from pathlib import Path

import click
from rich.console import Console
from rich.markup import escape
from rich.table import Table

from groundcheck.report import overview
from groundcheck.report.cautions import CAUTION_LINE
from groundcheck.report.cell_text import clean_text
from groundcheck.report.change_text import counts_text
from groundcheck.report.field_names import field_in_words, kind_in_words
from groundcheck.store import Store

TOP_FIELDS = 5


def print_overview(store: Store, paths: Sequence[Path]) -> None:
    """What was read, what was found, what could not be assessed, what was refused, where the reports are."""
    console = Console(highlight=False)
    if console.is_terminal:
        table = Table(box=None, show_header=False, pad_edge=False, padding=(0, 2, 0, 0))
        table.add_column(style="bold", no_wrap=True)
        table.add_column()
        for name, value in _lines(store):
            table.add_row(name, escape(clean_text(value)))
        console.print(table)
    else:
        for name, value in _lines(store):
            click.echo(f"{name:<10}{clean_text(value)}")
    for path in paths:
        click.echo(path)
    click.echo(CAUTION_LINE)


def _lines(store: Store) -> list[tuple[str, str]]:
    read = overview.reading(store)
    total = overview.outcomes(store)
    severities = overview.findings_by_severity(store)
    files = overview.counted(read.files, "file")
    files += f", {read.unreadable:,} that could not be read" if read.unreadable else ""
    files += f", {read.copies:,} of the same content as another" if read.copies else ""
    stations = overview.counted(read.stations, "substation")
    assets = overview.counted(read.assets, "other asset")
    lines = [
        ("read", f"{files}: {stations}, {assets}"),
        ("rows", f"{read.rows_read:,} read, {read.rows_used:,} used, {read.rows_quarantined:,} in quarantine"),
        ("findings", ", ".join(f"{count:,} {severity}" for severity, count in severities.items())),
        ("result", total.verdict),
    ]
    waived = overview.waived_by_severity(store)
    if any(waived.values()):
        lines.append(("waived", ", ".join(f"{count:,} {severity}" for severity, count in waived.items())))
    lines += [("waiver", sentence) for sentence in overview.waivers_that_do_not_hold(store)]
    since = overview.changes_since(store)
    if since:
        number, made_at, counts = since
        lines.append(("changes", f"{counts_text(counts)} since audit {number} of {made_at}"))
    if read.questions:
        lines.append(("questions", f"{read.questions:,} open: sheet Questions of exceptions.xlsx"))
    lines += [("file", f"{file}: {problem}") for file, problem in overview.unreadable_files(store)]
    for kind, field, checks, records, _ in overview.blocking_fields(store)[:TOP_FIELDS]:
        where = f"in {overview.counted(records, 'record')}, for {overview.counted(checks, 'check')}"
        lines.append(("ask for", f"{kind_in_words(kind)} {field_in_words(kind, field)}: {where}"))
    lines += [("notice", sentence) for sentence in overview.notices(store)]
    lines += [("refused", f"{rule}: {problem}") for rule, problem in overview.refused_rules(store)]
    return lines
