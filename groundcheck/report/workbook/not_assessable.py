"""The sheets Not assessable and Fields to ask for: what was not checked, and what would let it be."""

from typing import Any

from groundcheck.report.field_names import field_description, field_in_words, kind_in_words
from groundcheck.report.overview import blocking_fields, outcomes
from groundcheck.report.rows import fetch
from groundcheck.report.workbook.table_sheet import Field, TableSheet, rows_of
from groundcheck.store import Store

# A check that is not assessable without a field named still has its line: nothing that was not checked is left out.
_QUERY = """
    SELECT r.rule, s.district, r.substation, r.asset_kind, r.asset, r.item,
           m.blocking_asset_kind, m.field, m.blocking_substation, m.blocking_asset, m.source_file, m.sheet, m.cell
    FROM audit.result r
    LEFT JOIN audit.missing_field m
      ON  m.rule = r.rule AND m.substation = r.substation AND m.asset_kind = r.asset_kind AND m.asset = r.asset
      AND m.item IS NOT DISTINCT FROM r.item
    LEFT JOIN (SELECT substation, any_value(district) AS district FROM inventory.substation GROUP BY ALL) s
      ON s.substation = r.substation
    WHERE r.outcome = 'not_assessable'
    ORDER BY s.district, r.substation, r.asset, r.asset_kind, r.rule, r.item,
             m.blocking_substation, m.blocking_asset, m.field, m.source_file, m.sheet, m.cell
"""


def not_assessable_sheet(store: Store) -> TableSheet:
    """A line for each check and missing field."""

    def row(*cells: Any) -> tuple[Any, ...]:
        rule, district, station, kind, asset, item, b_kind, field, b_station, b_asset, file, sheet, cell = cells
        missing = field_in_words(b_kind, field) if field else "no single field named"
        place = cell or ("no such column" if file else "in no sheet yet" if field else None)
        return (
            *(district, station, kind_in_words(kind), asset, item, rule, missing, field_description(b_kind, field)),
            *(b_station, kind_in_words(b_kind), b_asset, file, sheet, place),
        )

    return TableSheet(
        name="Not assessable",
        about="every check that could not be made, with the field and the cell to fill in",
        fields=(
            Field("district", 13, "wrap"),
            Field("substation", 13, "wrap"),
            Field("asset kind", 16, "wrap"),
            Field("asset", 14, "wrap"),
            Field("part", 8, "wrap"),
            Field("rule", 30, "wrap"),
            Field("missing field", 30, "wrap"),
            Field("what it is", 46, "wrap"),
            Field("record of: substation", 13, "wrap"),
            Field("asset kind of record", 16, "wrap"),
            Field("asset of record", 14, "wrap"),
            Field("file to fill in", 24, "wrap"),
            Field("sheet", 18, "wrap"),
            Field("cell", 13, "wrap"),
        ),
        empty="Every check that applies could be made."
        if outcomes(store).satisfied + outcomes(store).exceptions
        else "Empty because no rule applies to anything on record.",
        frozen_columns=2,
        whole_in="audit.missing_field of the store",
        **rows_of(store, _QUERY, row),
    )


def fields_to_ask_for_sheet(store: Store) -> TableSheet:
    """The fields ranked by how many checks wait for them."""
    districts = _districts(store)
    rows = [
        (
            *(field_in_words(kind, field), kind_in_words(kind), field_description(kind, field)),
            *(checks, records, stations, districts.get((kind, field))),
        )
        for kind, field, checks, records, stations in blocking_fields(store)
    ]
    return TableSheet(
        name="Fields to ask for",
        about="the fields whose absence blocks most checks, ranked, with the districts to ask",
        fields=(
            Field("missing field", 34, "wrap"),
            Field("asset kind of record", 22),
            Field("what it is", 60, "wrap"),
            Field("checks that wait for it", 14, "count"),
            Field("records to fill in", 14, "count"),
            Field("substations", 12, "count"),
            Field("records by district", 60, "wrap"),
        ),
        rows=rows,
        empty="No check waits for a field.",
    )


def _districts(store: Store) -> dict[tuple[str, str], str]:
    query = """
        SELECT m.blocking_asset_kind, m.field, coalesce(s.district, 'district not on record') AS district,
               count(DISTINCT (m.blocking_substation, m.blocking_asset)) AS records
        FROM audit.missing_field m
        LEFT JOIN (SELECT substation, any_value(district) AS district FROM inventory.substation GROUP BY ALL) s
          ON s.substation = m.blocking_substation
        GROUP BY ALL ORDER BY ALL
    """
    found: dict[tuple[str, str], list[str]] = {}
    for kind, field, district, records in fetch(store, query):
        found.setdefault((kind, field), []).append(f"{district}: {records}")
    return {key: ", ".join(parts) for key, parts in found.items()}
