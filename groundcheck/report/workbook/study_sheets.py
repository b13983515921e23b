"""The sheets on the study: what was assumed, and what was left out."""

from groundcheck.report.field_names import field_in_words, kind_in_words
from groundcheck.report.rows import fetch
from groundcheck.report.workbook.table_sheet import Field, TableSheet
from groundcheck.store import Store

_ASSET = (Field("substation", 18), Field("asset kind", 22), Field("asset", 20, "wrap"))


def assumptions_sheet(store: Store) -> TableSheet:
    """Typical values used in place of ones that are not on record."""
    query = """
        SELECT substation, asset_kind, asset, field, value, why FROM study.assumption
        ORDER BY substation, asset_kind, asset, field, value
    """
    rows = [
        (station, kind_in_words(kind), asset, field_in_words(kind, field), value, why)
        for station, kind, asset, field, value, why in fetch(store, query)
    ]
    fields = (*_ASSET, Field("field", 32, "wrap"), Field("value used", 22), Field("why, and its source", 80, "wrap"))
    about = "typical values used in place of what is not on record; what rests on them is provisional"
    return TableSheet("Assumptions", about, fields, rows, "Nothing was assumed: the study rests on the record alone.")


def left_out_sheet(store: Store) -> TableSheet:
    """Records that the study could not use, and assets that are not in service."""
    query = """
        SELECT substation, asset_kind, asset, why, field FROM study.left_out
        UNION ALL
        SELECT substation, asset_kind, asset, 'not in service (' || status || '): kept, counted, not studied', 'status'
        FROM inventory.out_of_service
        ORDER BY ALL
    """
    rows = [
        (station, kind_in_words(kind), asset, why, field_in_words(kind, field))
        for station, kind, asset, why, field in fetch(store, query)
    ]
    fields = (*_ASSET, Field("why it is left out", 80, "wrap"), Field("field that decided it", 32, "wrap"))
    about = "records that the study could not use, and assets that are not in service"
    return TableSheet("Left out", about, fields, rows, "Every record in service took part in the study.")
