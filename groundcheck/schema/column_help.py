"""What a person who fills in a column needs to know of it, made from its facts."""

from groundcheck.schema.columns import Column

_BY_KIND = {
    "key": "A tag. It need be unique in its station only.",
    "reference": "Its tag; an asset of another station is written STATION:TAG.",
    "references": "One tag or several, separated by semicolons; of another station STATION:TAG.",
    "vector_group": "IEC 60076-1 notation, such as YNd11, Dyn1 or YNyn0d11.",
    "size": "Such as 70 mm2, 2 x 95 mm2, 4/0 AWG, 300 kcmil or 40x5 mm.",
    "yes_no": "yes or no; blank if it is not known.",
    "date": "A date, or text such as 2024-03-31.",
    "places": "Places separated by semicolons; none if there are none, blank if it is not known.",
    "count": "A whole number.",
    "text": "Text.",
}


def column_help(column: Column) -> str:
    """All that a person filling in the column of a table needs to know, a line a fact."""
    needed = "Required." if column.required else "May be blank: then not on record."
    return "\n".join([column.description, needed, *_how_to_write(column)])


def cell_help(column: Column) -> str:
    """What to write into one cell: the description, what is taken, the limits, the accepted words, an example."""
    return " ".join([column.description, *_how_to_write(column)])


def _how_to_write(column: Column) -> list[str]:
    lines = []
    if column.kind == "quantity":
        lines.append(f"A number in {column.unit}, or with its unit." if column.unit else "A number.")
    elif column.kind != "choice":
        lines.append(_BY_KIND[column.kind])
    if column.limits:
        lines.append(f"Limits: {column.limits}.")
    if column.accepted:
        lines.append(f"One of: {', '.join(column.accepted)}.")
    if column.example:
        lines.append(f"Example: {column.example}")
    return lines
