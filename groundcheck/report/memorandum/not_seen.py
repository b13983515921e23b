"""What an assessment could not reach: checks that wait for a cell, values assumed, rows in quarantine, unread cells."""

from typing import Any

from groundcheck.report.field_names import field_in_words, kind_in_words
from groundcheck.report.memorandum.by_part import NOTHING, listed_by_part
from groundcheck.report.memorandum.room import Room
from groundcheck.schema.stages.raw import QUARANTINE_REASONS
from groundcheck.store import Store


def limits(store: Store, parts: int, room: Room) -> list[dict[str, Any]]:
    """The limits of each memorandum."""
    waiting = listed_by_part(store, _NOT_ASSESSABLE, "substation, asset_kind, asset, rule, item", room.rows)
    assumed = listed_by_part(store, _ASSUMED, "substation, asset_kind, asset, field", room.rows)
    quarantined = listed_by_part(store, _of_their_sources("raw.quarantine", "reason"), _PLACE_ORDER, room.rows)
    unread = listed_by_part(store, _of_their_sources("raw.unread_cell", "field"), _PLACE_ORDER, room.rows)
    return [
        {
            "not_assessable": _each(waiting.get(memo, NOTHING), _check),
            "assumptions": _each(assumed.get(memo, NOTHING), _assumption),
            "quarantine": _each(quarantined.get(memo, NOTHING), _quarantined),
            "unread": _each(unread.get(memo, NOTHING), _unread),
        }
        for memo in range(parts)
    ]


_NOT_ASSESSABLE = """
    SELECT memo, r.rule, any_value(t.title) AS title, r.substation, r.asset_kind, r.asset, r.item,
           list({'kind': m.blocking_asset_kind, 'field': m.field, 'substation': m.blocking_substation,
                 'asset': m.blocking_asset, 'file': m.source_file, 'sheet': m.sheet, 'cell': m.cell}
                ORDER BY m.blocking_substation, m.blocking_asset_kind, m.blocking_asset, m.field, m.cell)
           FILTER (m.field IS NOT NULL) AS settled_by
    FROM memo_station JOIN audit.result r USING (substation)
    LEFT JOIN audit.missing_field m
      ON  m.rule = r.rule AND m.substation = r.substation AND m.asset_kind = r.asset_kind AND m.asset = r.asset
      AND m.item IS NOT DISTINCT FROM r.item
    LEFT JOIN (SELECT DISTINCT ON (rule) rule, title FROM audit.rule WHERE problem IS NULL) t ON t.rule = r.rule
    WHERE r.outcome = 'not_assessable'
    GROUP BY memo, r.rule, r.substation, r.asset_kind, r.asset, r.item
"""
_ASSUMED = """
    SELECT memo, substation, asset_kind, asset, field, "value", why
    FROM memo_station JOIN study.assumption USING (substation)
"""
_PLACE_ORDER = 'file, sheet, "row", cell'


def _of_their_sources(table: str, what: str) -> str:
    """
    Rows of the files that hold records of the stations, but for those that name another station.

    A row that names no station, or none on record, is every station's of its file: nobody can tell whose it is.
    """
    return f"""
        WITH names AS (
            SELECT DISTINCT lower(trim(name)) AS name, substation FROM (
                SELECT substation AS name, substation FROM inventory.substation
                UNION ALL SELECT name, substation FROM inventory.substation
                UNION ALL SELECT also_known_as, substation FROM inventory.substation
            ) WHERE name IS NOT NULL
        ), read_from AS (
            SELECT DISTINCT m.memo, r.file FROM memo_station m
            JOIN (SELECT substation, raw_row FROM inventory.substation
                  UNION ALL SELECT substation, raw_row FROM inventory.bus
                  UNION ALL SELECT substation, raw_row FROM inventory.transformer
                  UNION ALL SELECT substation, raw_row FROM inventory.neutral_device) USING (substation)
            JOIN raw.row r USING (raw_row)
        ), placed AS (
            SELECT q.file, q.sheet, q."row", q.cell, q.target_table, q.{what}, q.found, q.expected,
                   list(DISTINCT n.substation) FILTER (n.substation IS NOT NULL) AS named
            FROM {table} q
            LEFT JOIN raw.row r USING (raw_row)
            LEFT JOIN raw.column_map c
              ON  c.file = r.file AND c.sheet = r.sheet AND c.region IS NOT DISTINCT FROM r.region
              AND c.field = 'substation'
            LEFT JOIN names n ON n.name = lower(trim(r.cells[column_place(c.column_letter)]))
            GROUP BY ALL
        )
        SELECT DISTINCT memo, placed.* FROM placed JOIN read_from USING (file)
        WHERE named IS NULL OR EXISTS (
            FROM memo_station m WHERE m.memo = read_from.memo AND list_contains(named, m.substation))
    """


def _each(listed: dict[str, Any], make: Any) -> dict[str, Any]:
    return {**listed, "rows": [make(row) for row in listed["rows"]]}


def _asset(row: dict[str, Any]) -> dict[str, Any]:
    item = f", {row['item']}" if row.get("item") else ""
    return {"substation": row["substation"], "asset": f"{kind_in_words(row['asset_kind'])} {row['asset']}{item}"}


def _check(row: dict[str, Any]) -> dict[str, Any]:
    settled_by = [
        {
            "field": field_in_words(each["kind"], each["field"]),
            "of": _of(each, row["substation"]),
            **{name: each[name] for name in ("file", "sheet", "cell")},
        }
        for each in row["settled_by"] or ()
    ]
    return {"rule": row["rule"], "title": row["title"], **_asset(row), "settled_by": settled_by}


def _of(missing: dict[str, Any], station: str) -> str:
    elsewhere = missing["substation"] not in (None, station)
    tag = f"{missing['substation']}:{missing['asset']}" if elsewhere else missing["asset"]
    return f"{kind_in_words(missing['kind'])} {tag or ''}".strip()


def _assumption(row: dict[str, Any]) -> dict[str, Any]:
    field = field_in_words(row["asset_kind"], row["field"])
    return {**_asset(row), "field": field, "value": row["value"], "why": row["why"]}


def _quarantined(row: dict[str, Any]) -> dict[str, Any]:
    why = QUARANTINE_REASONS.get(row["reason"], row["reason"])
    return {**_placed(row), "feeds": kind_in_words(row["target_table"]), "why": why}


def _unread(row: dict[str, Any]) -> dict[str, Any]:
    return {**_placed(row), "field": field_in_words(row["target_table"], row["field"])}


def _placed(row: dict[str, Any]) -> dict[str, Any]:
    return {name: row[name] for name in ("file", "sheet", "row", "cell", "found", "expected")}
