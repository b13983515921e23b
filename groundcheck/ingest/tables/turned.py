"""Sheets that have a column an asset, and data sheets of one asset: turned, so that every table has a row an asset."""

from groundcheck.ingest.mapping.headings import known_in, match_heading, normalize, table_columns
from groundcheck.ingest.sheets import Position, Sheet, cell_name, cell_text, is_blank
from groundcheck.ingest.tables.heading_score import NO_HEADING, Score, score_cells

_SEARCHED = 200  # rows: a sheet with a column an asset is no longer
_FIRST_LABELS = 4  # columns of which one holds the labels
_FEWEST = 3  # labels
_MOSTLY = 0.5
_BESIDE = 2  # labels of a second pair of columns on a data sheet


def turn_sheet(sheet: Sheet, told: bool | None = None) -> None:
    """
    Turn the sheet if its headings go down a column; `told` is what the column map says of that.

    Rows and columns change places, merged ranges and what is hidden with them. A data sheet with its pairs of label
    and value beside each other becomes one row of headings and one of values, each cell with its own name.
    """
    if sheet.table is not None or sheet.turned or told is False or not len(sheet.rows) > 0:
        return
    scores = _label_columns(sheet)
    if not scores and told is None:
        return
    if len(scores) > 1:
        _fold(sheet, sorted(scores))
    else:
        _turn(sheet)


def _column(sheet: Sheet, column: int) -> list[object]:
    return [row[column] if column < len(row) else None for row in sheet.rows[:_SEARCHED]]


def _label_columns(sheet: Sheet) -> dict[int, Score]:
    """The columns that hold labels, if they read more like headings than any row does."""
    if len(sheet.rows) > _SEARCHED or sheet.width < 2:
        return {}
    down = {column: score_cells(_column(sheet, column)) for column in range(min(sheet.width, 3 * _FIRST_LABELS))}
    first = max(list(down)[:_FIRST_LABELS], key=lambda column: (down[column].hits, -column))
    best = down[first]
    if best.hits < _FEWEST or not best.is_heading or best.share < _MOSTLY:
        return {}
    beside = {
        column: score
        for column, score in down.items()
        if column > first + 1 and score.share >= _MOSTLY and _hits(sheet, column, best.table) >= _BESIDE
    }
    labels = {first: best} | beside
    across = max((score_cells(row) for row in sheet.rows), key=lambda score: score.hits, default=NO_HEADING)
    if across.hits >= best.hits or across.hits > max(len(labels), 1):
        return {}
    return labels if _holds_values(sheet, first, best.table) else {}


def _hits(sheet: Sheet, column: int, table: str) -> int:
    texts = {normalize(cell): cell for cell in _column(sheet, column) if isinstance(cell, str)}
    return sum(table in known_in(text) for text in texts.values())


def _holds_values(sheet: Sheet, labels: int, table: str) -> bool:
    """Whether values stand beside the labels, with digits where the label asks for a quantity."""
    quantities = digits = values = 0
    for row in sheet.rows:
        label = row[labels] if labels < len(row) else None
        beside = [cell_text(cell) or "" for cell in row[labels + 1 :] if not is_blank(cell)]
        if not isinstance(label, str) or not beside:
            continue
        field = match_heading(label, table).field
        values += field is not None
        if field is not None and table_columns(table)[field].kind in ("quantity", "size", "count"):
            quantities += 1
            digits += any(letter.isdigit() for text in beside for letter in text)
    return values >= 2 and digits >= _MOSTLY * quantities


def _turn(sheet: Sheet) -> None:
    width = sheet.width
    sheet.merged = [((left, top), (right, bottom)) for (top, left), (bottom, right) in sheet.merged]
    sheet.hidden_rows, sheet.hidden_columns = sheet.hidden_columns, sheet.hidden_rows
    sheet.turned = True
    sheet.replace_rows([[row[c] if c < len(row) else None for row in sheet.rows] for c in range(width)])


def _fold(sheet: Sheet, labels: list[int]) -> None:
    """One row of all labels and one of their values; what is neither stands above them."""
    pairs = [
        ((row, column), value)
        for column in labels
        for row in range(len(sheet.rows))
        if _filled(sheet, row, column) and (value := _value(sheet, row, column, labels)) is not None
    ]
    taken = {place for pair in pairs for place in pair}
    rest = [
        [(row, c) for c in range(sheet.width) if (row, c) not in taken and _filled(sheet, row, c)]
        for row in range(len(sheet.rows))
    ]
    _arrange(sheet, [*filter(None, rest), [label for label, _ in pairs], [value for _, value in pairs]])


def _value(sheet: Sheet, row: int, label: int, labels: list[int]) -> Position | None:
    """The first filled cell to the right of a label, before the next column of labels."""
    end = min((column for column in labels if column > label), default=sheet.width)
    return next(((row, column) for column in range(label + 1, end) if _filled(sheet, row, column)), None)


def _arrange(sheet: Sheet, lines: list[list[Position]]) -> None:
    sheet.cell_names = {(i, j): cell_name(*place) for i, line in enumerate(lines) for j, place in enumerate(line)}
    sheet.merged, sheet.turned = [], True
    sheet.replace_rows([[sheet.rows[row][column] for row, column in line] for line in lines])


def _filled(sheet: Sheet, row: int, column: int) -> bool:
    return column < len(sheet.rows[row]) and not is_blank(sheet.rows[row][column])
