"""Questions about headings: one that fits several fields, and several columns that fit one field."""

from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.feeds import Layout
from groundcheck.ingest.mapping.headings import normalize
from groundcheck.ingest.sheets import Sheet, cell_name, column_letter
from groundcheck.ingest.toml_text import quoted


def ask_about_headings(sheet: Sheet, layout: Layout, book: Book) -> None:
    """Ask about every ambiguous heading of a table; none of them feeds anything meanwhile."""
    rivals: dict[str, list[int]] = {}
    for column, match in sorted(layout.left.items()) if layout.feeds else ():
        if match.how != "ambiguous":
            continue
        if len(match.candidates) == 1:
            rivals.setdefault(match.candidates[0], []).append(column)
        else:
            answer = answer_line(match.candidates[0], column, layout, sheet)
            _ask(book, "heading", [column], match.candidates, answer, sheet, layout)
    for name, columns in rivals.items():
        candidates = [f"{_place(sheet, column)} {layout.region.headings[column]}" for column in columns]
        _ask(book, "same_heading", columns, candidates, answer_line(name, columns[0], layout, sheet), sheet, layout)


def answer_line(candidate: str, column: int, layout: Layout, sheet: Sheet) -> str:
    """The line of the column map that makes a column feed a field, or its parts feed several."""
    heading = quoted(layout.region.headings[column])
    names = candidate.split(" + ")
    if len(names) > 1:
        return "\n".join(f"fields.{name} = {{ part = {i}, of = {heading} }}" for i, name in enumerate(names, 1))
    alike = [h for h in layout.region.headings.values() if normalize(h) == normalize(layout.region.headings[column])]
    if len(alike) > 1:
        return f'fields.{candidate} = {{ heading = {heading}, column = "{_place(sheet, column)}" }}'
    return f"fields.{candidate} = {heading}"


def _place(sheet: Sheet, column: int) -> str:
    """The letter of a column; the number of the row in a sheet that has a column an asset."""
    return str(column + 1) if sheet.turned else column_letter(column)


def _ask(
    book: Book,
    subject: str,
    columns: list[int],
    candidates: list[str] | tuple[str, ...],
    answer: str,
    sheet: Sheet,
    layout: Layout,
) -> None:
    region = layout.region
    body = slice(region.body.start, region.body.stop)
    inside = [column for column in columns if column < sheet.width]
    book.ask(
        subject,
        "; ".join(dict.fromkeys(region.headings[column] for column in columns)),
        candidates,
        sheet=sheet,
        cell=cell_name(region.heading_rows[-1], columns[0], sheet.turned),
        cells=int(sheet.filled[body, inside].sum()),
        answer=answer,
    )
