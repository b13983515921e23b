"""What checks wait for: cells that can be filled in, and records that are not there at all."""

from dataclasses import dataclass

from groundcheck.report.field_names import field_in_words, kind_in_words
from groundcheck.report.rows import fetch
from groundcheck.schema import INVENTORY_TABLES, Column
from groundcheck.store import Store

NO_DISTRICT = "No district"


@dataclass(frozen=True)
class Wanted:
    """One field of one asset, and how many checks wait for it; `column` is None where no cell can hold it."""

    district: str
    station: str
    kind: str
    asset: str
    field: str
    checks: int
    column: Column | None
    place: str
    on_record: bool

    @property
    def missing_record(self) -> str:
        """What is not on record, where it is more than a cell."""
        kind, field = kind_in_words(self.kind), field_in_words(self.kind, self.field)
        if self.field in INVENTORY_TABLES:
            return f"no {field} on record for it"
        if not self.asset:
            return f"no {kind} on record for this station; its {field} is needed"
        if self.column is not None:
            return f"named, but without a record of its own; its {field} is needed"
        return f"{field} could not be computed, and no single field says why"


def wanted_fields(store: Store) -> list[Wanted]:
    """Every field that a check waits for, district by district, those that most checks wait for first."""
    each = " UNION ALL ".join(
        f"""SELECT '{name}' AS kind, substation, "{name}" AS asset, inferred_from IS NOT NULL AS inferred
            FROM inventory."{name}" """
        for name in INVENTORY_TABLES
    )
    query = f"""
        WITH waiting AS (
            SELECT blocking_substation AS station, blocking_asset_kind AS kind, coalesce(blocking_asset, '') AS asset,
                   field, count(DISTINCT (rule, substation, asset_kind, asset, item)) AS checks,
                   min(source_file) AS file, min(sheet) AS sheet, min(cell) AS cell
            FROM audit.missing_field GROUP BY ALL
        ), known AS (
            SELECT kind, substation, asset, bool_and(inferred) AS inferred FROM ({each}) GROUP BY ALL
        ), unread AS (
            SELECT file, sheet, cell, min(found) AS found FROM raw.unread_cell GROUP BY ALL
        ), placed AS (
            SELECT substation, any_value(district) AS district FROM inventory.substation GROUP BY ALL
        )
        SELECT coalesce(trim(p.district), '') AS district, w.station, w.kind, w.asset, w.field, w.checks,
               w.file, w.sheet, w.cell, u.found, k.kind IS NOT NULL, coalesce(k.inferred, FALSE)
        FROM waiting w
        LEFT JOIN placed p ON p.substation = w.station
        LEFT JOIN known k ON k.kind = w.kind AND k.substation = w.station AND k.asset = w.asset
        LEFT JOIN unread u ON u.file = w.file AND u.sheet = w.sheet AND u.cell = w.cell
        ORDER BY district = '', district, w.checks DESC, w.station, w.kind, w.asset, w.field
    """
    return [
        Wanted(
            district=district or NO_DISTRICT,
            station=station or "",
            kind=kind or "",
            asset=asset,
            field=field,
            checks=checks,
            column=_column(kind, field),
            place=_place(file, sheet, cell, found, inferred=inferred, is_field=_column(kind, field) is not None),
            on_record=on_record,
        )
        for district, station, kind, asset, field, checks, file, sheet, cell, found, on_record, inferred in fetch(
            store, query
        )
    ]


def _column(kind: str | None, field: str) -> Column | None:
    model = INVENTORY_TABLES.get(kind or "")
    return model.columns().get(field) if model else None


def _place(
    file: str | None, sheet: str | None, cell: str | None, found: str | None, *, inferred: bool, is_field: bool
) -> str:
    where = " · ".join(part for part in (file, sheet, cell) if part)
    if inferred:
        return f"only named, in {where}" if where else "only named by another asset"
    if not file:
        return "in no sheet yet"
    if not cell:
        return f"{where}: no column for it" if is_field else where
    return f"{where}: found '{found}'" if found else where
