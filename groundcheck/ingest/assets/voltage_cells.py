"""The cell of a disputed voltage of a bus that is only named: that of the voltage, not that of the bus's name."""

import pandas as pd

from groundcheck.ingest.assets.frame_rows import frame_rows
from groundcheck.ingest.assets.source_cells import column_in_row
from groundcheck.ingest.book import Book
from groundcheck.ingest.tables.records import Records

_VOLTAGE_OF = {
    "transformer.hv_bus": "hv_voltage",
    "transformer.lv_bus": "lv_voltage",
    "transformer.tv_bus": "tv_voltage",
    "generator.bus": "rated_voltage",
}


def originate_voltages(buses: pd.DataFrame, records: list[Records], book: Book) -> None:
    """Say where the voltage of each inferred bus stands that the record gives two voltages."""
    disputed = {
        (told["substation"], told["asset"])
        for told in book.contradictions
        if (told["asset_kind"], told["field"]) == ("bus", "nominal_voltage")
    }
    if not disputed:
        return
    near = buses[buses["bus"].isin({bus for _, bus in disputed}) & buses["inferred_from"].isin(list(_VOLTAGE_OF))]
    for row in frame_rows(near, "substation", "bus", "raw_row", "inferred_from"):
        if (row["substation"], row["bus"]) in disputed:
            field = _VOLTAGE_OF[row["inferred_from"]]
            table = row["inferred_from"].partition(".")[0]
            column = column_in_row(records, table, field, int(row["raw_row"]))
            book.originate(row["substation"], "bus", row["bus"], "nominal_voltage", int(row["raw_row"]), column)
