"""The checks that could not be made, each with the fields it waits for and the cells to fill in."""

from typing import Any

from groundcheck.report.cell_text import clean_text
from groundcheck.report.field_names import field_in_words, kind_in_words
from groundcheck.report.page.findings_index import NO_DISTRICT
from groundcheck.report.page.packing import coded_table
from groundcheck.report.rows import fetch
from groundcheck.store import Store

COLUMNS = ("district", "substation", "kind", "asset", "rule", "field", "missing", "place")

_QUERY = f"""
    WITH missing AS (
        SELECT rule, substation, asset_kind, asset, item,
               list(DISTINCT [blocking_asset_kind, field, blocking_substation, blocking_asset,
                              source_file, sheet, cell]) AS fields
        FROM audit.missing_field GROUP BY ALL
    ), station AS (
        SELECT substation, any_value(district) AS district FROM inventory.substation GROUP BY ALL
    )
    SELECT coalesce(nullif(s.district, ''), '{NO_DISTRICT}') AS district, r.substation, r.asset_kind, r.asset, r.item,
           r.rule, m.fields
    FROM audit.result r
    LEFT JOIN missing m
      ON  m.rule = r.rule AND m.substation IS NOT DISTINCT FROM r.substation AND m.asset_kind = r.asset_kind
      AND m.asset = r.asset AND m.item IS NOT DISTINCT FROM r.item
    LEFT JOIN station s ON s.substation = r.substation
    WHERE r.outcome = 'not_assessable'
    ORDER BY district, r.substation, r.asset, r.asset_kind, r.rule, r.item
"""


def missing_index(store: Store) -> dict[str, Any]:
    """A row for each check, as coded columns; `field` holds the bare kinds of field, a line each, to filter by."""
    return coded_table(COLUMNS, [_row(*found) for found in fetch(store, _QUERY)])


def _row(
    district: str,
    substation: str | None,
    kind: str | None,
    asset: str | None,
    item: str | None,
    rule: str,
    fields: list[list[str | None]] | None,
) -> tuple[Any, ...]:
    named = sorted((tuple(part or "" for part in each) for each in fields or ()), key=lambda each: (*each[2:4], each))
    kinds = dict.fromkeys(f"{kind_in_words(each[0])}: {field_in_words(each[0], each[1])}" for each in named if each[1])
    missing = [_missing(each, substation) for each in named if each[1]]
    places = [place_to_fill(*each[4:]) for each in named if each[1]]
    tag = f"{asset or ''}, {item}" if item else asset or ""
    return (
        *(clean_text(district), clean_text(substation or ""), kind_in_words(kind), clean_text(tag), rule),
        "\n".join(kinds),
        clean_text("\n".join(missing)) or "no single field named",
        clean_text("\n".join(places)),
    )


def _missing(each: tuple[str, ...], substation: str | None) -> str:
    """'rated current (A) of neutral device NR9'."""
    kind, field, owner, asset, *_ = each
    foreign = f"{owner}:" if owner and owner != substation else ""
    return f"{field_in_words(kind, field)} of {kind_in_words(kind)} {foreign}{asset}"


def place_to_fill(file: str | None, sheet: str | None, cell: str | None) -> str:
    """The cell that a person is to fill in, as far as there is one."""
    if not file:
        return "in no sheet yet"
    return " · ".join(part for part in (file, sheet, cell or "no such column") if part)
