"""The data dictionary: every column of every table of every stage, as one Markdown page."""

from groundcheck.schema.columns import Column
from groundcheck.schema.ddl import STAGES, sql_columns
from groundcheck.schema.table import PROVENANCE, InventoryTable, Table

_STAGE_SENTENCES = {
    "raw": "Every row as it was read, and what was made of it.",
    "inventory": "The canonical tables: what the records say, typed, in the unit given here.",
    "study": "What is computed, and every assumption made.",
    "audit": "Rules, outcomes, findings.",
}
_PROVENANCE_SENTENCES = {
    "raw_row": "Row of `raw.row` that the asset came from.",
    "part": "Which of several assets of this table in one row of a sheet.",
    "inferred_from": "The table.field that named the asset, where it is only ever named.",
}


def data_dictionary() -> str:
    """The whole page."""
    lines = [
        "# Data dictionary",
        "",
        "Made from the table models by `groundcheck template --dictionary FILE`; edit the models, not this page.",
        "A query may join any of these tables as `stage.table`. Columns in **bold** are required.",
    ]
    for stage, tables in STAGES.items():
        lines += ["", f"## {stage}", "", _STAGE_SENTENCES[stage]]
        for name, model in tables.items():
            lines += ["", f"### {stage}.{name}", "", model.summary(), "", *_table(model)]
    return "\n".join(lines) + "\n"


def _table(model: type[Table]) -> list[str]:
    is_inventory = issubclass(model, InventoryTable)
    heads = ["column", "kind", "type", "unit", "limits", "description"]
    if is_inventory:
        heads += ["example", "accepted words", "headings recognized"]
    types = sql_columns(model)
    lines = [_line(heads), _line(["---"] * len(heads))]
    lines.extend(_line(_cells(column, types[column.name], is_inventory)) for column in model.columns().values())
    if is_inventory:
        lines.extend(
            _line([name, "provenance", PROVENANCE[name], "", "", sentence, "", "", ""])
            for name, sentence in _PROVENANCE_SENTENCES.items()
        )
    return lines


def _cells(column: Column, sql_type: str, is_inventory: bool) -> list[str]:
    name = f"**{column.name}**" if column.required and is_inventory else column.name
    kind = column.kind.replace("_", " ")
    if column.refers_to:
        kind += " to " + ", ".join(column.refers_to)
    cells = [name, kind, sql_type, column.unit or "", column.limits, column.description]
    if is_inventory:
        cells += [column.example or "", ", ".join(column.accepted or ()), ", ".join(column.aliases)]
    return cells


def _line(cells: list[str]) -> str:
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"
