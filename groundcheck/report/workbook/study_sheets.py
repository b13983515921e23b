"""The sheets on the study: what was assumed, and what was left out."""

from typing import Any

from groundcheck.report.field_names import field_in_words, kind_in_words
from groundcheck.report.workbook.table_sheet import Field, TableSheet, rows_of
from groundcheck.store import Store

_ASSET = (Field("substation", 18, "wrap"), Field("asset kind", 22, "wrap"), Field("asset", 20, "wrap"))


def assumptions_sheet(store: Store) -> TableSheet:
    """Typical values used in place of ones that are not on record."""
    query = """
        SELECT substation, asset_kind, asset, field, value, why FROM study.assumption
        ORDER BY substation, asset_kind, asset, field, value
    """

    def row(station: str, kind: str, asset: str, field: str, value: str, why: str) -> tuple[Any, ...]:
        return station, kind_in_words(kind), asset, field_in_words(kind, field), value, why

    fields = (
        *_ASSET,
        Field("field", 32, "wrap"),
        Field("value used", 22, "wrap"),
        Field("why, and its source", 80, "wrap"),
    )
    about = "typical values used in place of what is not on record; what rests on them is provisional"
    empty = "Nothing was assumed: the study rests on the record alone."
    return TableSheet("Assumptions", about, fields, empty=empty, **rows_of(store, query, row))


def left_out_sheet(store: Store) -> TableSheet:
    """Records that the study could not use, and assets that are not in service."""
    query = """
        SELECT substation, asset_kind, asset, why, field FROM study.left_out
        UNION ALL
        SELECT substation, asset_kind, asset, 'not in service (' || status || '): kept, counted, not studied', 'status'
        FROM inventory.out_of_service
        ORDER BY ALL
    """

    def row(station: str, kind: str, asset: str, why: str, field: str) -> tuple[Any, ...]:
        return station, kind_in_words(kind), asset, why, field_in_words(kind, field)

    fields = (*_ASSET, Field("why it is left out", 80, "wrap"), Field("field that decided it", 32, "wrap"))
    about = "records that the study could not use, and assets that are not in service"
    empty = "Every record in service took part in the study."
    return TableSheet("Left out", about, fields, empty=empty, **rows_of(store, query, row))
