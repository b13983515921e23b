"""Fields and kinds of asset in words, with their unit."""

from functools import cache

from groundcheck.schema import INVENTORY_TABLES, STUDY_TABLES, Column


def kind_in_words(kind: str | None) -> str:
    """'neutral_device' as 'neutral device'."""
    return (kind or "").replace("_", " ")


def field_in_words(kind: str | None, field: str | None) -> str:
    """'rated_current' of a neutral device as 'rated current (A)'."""
    name = (field or "").rpartition(".")[2]
    column = _column(kind, name)
    if column and column.unit:  # a computed column carries its unit in its name, which is said in brackets instead
        name = name.removesuffix("_" + column.unit.lower())
    words = name.replace("_", " ")
    return f"{words} ({column.unit})" if column and column.unit else words


def field_description(kind: str | None, field: str | None) -> str:
    """What a person is asked to fill in: the field's description, and the words accepted."""
    column = _column(kind, (field or "").rpartition(".")[2])
    if column is None:
        return ""
    accepted = f" One of: {', '.join(column.accepted)}." if column.accepted else ""
    return column.description + accepted


@cache
def _column(kind: str | None, name: str) -> Column | None:
    own = INVENTORY_TABLES.get(kind or "")
    for model in ([own] if own else []) + list(STUDY_TABLES.values()):
        if name in model.columns():
            return model.columns()[name]
    return None
