"""What a memorandum is about: its stations, their assets, the sources read for them, and what was left out."""

from typing import Any

from groundcheck.report.field_names import kind_in_words
from groundcheck.report.memorandum.by_part import NOTHING, Row, listed_by_part, rows_by_part
from groundcheck.report.memorandum.room import Room
from groundcheck.report.overview import counted
from groundcheck.report.rows import fetch, severity_order
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.store import Store

# One row an asset of the inventory, with the row of the source that it was read from.
_ASSETS = " UNION ALL ".join(
    f"SELECT substation, '{name}' AS kind, raw_row FROM inventory.\"{name}\"" for name in INVENTORY_TABLES
)


def scopes(store: Store, parts: int, room: Room) -> list[dict[str, Any]]:
    """What each memorandum is about."""
    owners, stations, assets, sources = _owners(store), _stations(store, room), _assets(store), _sources(store)
    out = listed_by_part(store, _OUT_OF_SERVICE, "substation, kind, asset", room.rows)
    unused = listed_by_part(store, _NOT_STUDIED, "substation, kind, asset", room.rows)
    everywhere = _unread_files(store)
    return [
        {
            "owners": owners.get(memo, []),
            "stations": stations.get(memo, NOTHING),
            "assets": assets.get(memo, []),
            "sources": sources.get(memo, NOTHING),
            "not_in_service": _named(out.get(memo, NOTHING)),
            "not_studied": _named(unused.get(memo, NOTHING)),
            "files_left_out": everywhere,
        }
        for memo in range(parts)
    ]


_OUT_OF_SERVICE = """
    SELECT memo, substation, asset_kind AS kind, asset, status AS why
    FROM memo_station JOIN inventory.out_of_service USING (substation)
"""
_NOT_STUDIED = """
    SELECT memo, substation, asset_kind AS kind, asset, why FROM memo_station JOIN study.left_out USING (substation)
"""


def _named(listed: dict[str, Any]) -> dict[str, Any]:
    return {**listed, "rows": [{**row, "kind": kind_in_words(row["kind"])} for row in listed["rows"]]}


def _owners(store: Store) -> dict[int, list[str]]:
    query = """
        SELECT memo, list(DISTINCT owner ORDER BY owner) FROM memo_station JOIN inventory.substation USING (substation)
        WHERE owner IS NOT NULL GROUP BY memo
    """
    return dict(fetch(store, query))


def _stations(store: Store, room: Room) -> dict[int, dict[str, Any]]:
    """Each station with its open findings by severity; where there is no room for all, the worst of them."""
    query = f"""
        WITH assets AS (
            SELECT substation, count(*) FILTER (kind <> 'substation') AS assets FROM ({_ASSETS}) GROUP BY ALL
        ), found AS (
            SELECT substation, count(*) FILTER (severity = 'high' AND NOT waived)   AS high,
                   count(*) FILTER (severity = 'medium' AND NOT waived) AS medium,
                   count(*) FILTER (severity = 'low' AND NOT waived)    AS low,
                   count(*) FILTER (NOT waived)                         AS "open",
                   count(*) FILTER (waived)                             AS waived
            FROM (SELECT *, coalesce(status = 'waived', FALSE) AS waived FROM audit.finding) GROUP BY ALL
        ), asked AS (
            SELECT substation, sum(satisfied)::BIGINT AS satisfied, sum(not_assessable)::BIGINT AS not_assessable
            FROM audit.outcome GROUP BY ALL
        ), known AS (
            SELECT substation, any_value(name) AS name, any_value(owner) AS owner, any_value(criticality) AS criticality
            FROM inventory.substation GROUP BY ALL
        )
        SELECT memo, substation, k.name, k.owner, k.criticality, coalesce(a.assets, 0) AS assets,
               coalesce(f.high, 0) AS high, coalesce(f.medium, 0) AS medium, coalesce(f.low, 0) AS low,
               coalesce(f."open", 0) AS "open", coalesce(f.waived, 0) AS waived,
               coalesce(q.satisfied, 0) AS satisfied, coalesce(q.not_assessable, 0) AS not_assessable
        FROM memo_station LEFT JOIN known k USING (substation) LEFT JOIN assets a USING (substation)
        LEFT JOIN found f USING (substation) LEFT JOIN asked q USING (substation)
    """
    listed = listed_by_part(store, query, 'high DESC, medium DESC, low DESC, "open" DESC, substation', room.stations)
    for found in listed.values():
        if not found["more"]:
            found["rows"].sort(key=lambda row: row["substation"])
    return listed


def _assets(store: Store) -> dict[int, list[Row]]:
    """Assets in service by kind."""
    query = f"""
        SELECT memo, kind, count(*) AS number FROM memo_station JOIN ({_ASSETS}) USING (substation)
        WHERE kind <> 'substation' GROUP BY ALL
    """
    order = list(INVENTORY_TABLES)
    return {
        memo: [
            {"kind": _plural(kind_in_words(row["kind"]), row["number"]), "number": row["number"]}
            for row in sorted(rows, key=lambda row: order.index(row["kind"]))
        ]
        for memo, rows in rows_by_part(store, query).items()
    }


def _plural(kind: str, number: int) -> str:
    if number == 1 or kind == "insulation":
        return kind
    return kind + ("es" if kind.endswith(("s", "ch")) else "s")


def _sources(store: Store) -> dict[int, dict[str, Any]]:
    """The files that hold records of the stations, with their sheets, hash, and how their rows were used."""
    query = f"""
        WITH read_from AS (
            SELECT memo, r.file, list(DISTINCT r.sheet ORDER BY r.sheet) AS sheets, count(DISTINCT a.raw_row) AS used
            FROM memo_station JOIN ({_ASSETS}) a USING (substation) JOIN raw.row r USING (raw_row) GROUP BY ALL
        ), waiting AS (
            SELECT file, count(DISTINCT raw_row) AS waiting FROM raw.quarantine GROUP BY file
        )
        SELECT memo, file, f.sha256, f.reader, sheets, used, coalesce(waiting, 0) AS waiting
        FROM read_from LEFT JOIN raw.file f USING (file) LEFT JOIN waiting USING (file)
    """
    return listed_by_part(store, query, "file", 200)


def _unread_files(store: Store) -> list[str]:
    """Files of the whole audit that gave nothing, in words; beyond a few only their number."""
    query = """
        SELECT file, coalesce('could not be read: ' || problem, 'same content as ' || copy_of || ', read once')
        FROM raw.file WHERE problem IS NOT NULL OR copy_of IS NOT NULL
        UNION ALL SELECT file, 'passed over: ' || reason FROM raw.skipped
        ORDER BY ALL
    """
    rows = [f"{file}: {why}" for file, why in fetch(store, query)]
    more = [f"{counted(len(rows) - 20, 'more file')}: ingest_log.txt"] if len(rows) > 20 else []
    return rows[:20] + more


def rule_tables(store: Store) -> dict[int, list[Row]]:
    """How the checks of each rule ended that asked about anything there: what failed most first."""
    query = f"""
        WITH found AS (
            SELECT memo, rule, count(*) FILTER (NOT waived) AS "open", count(*) FILTER (waived) AS waived
            FROM memo_station
            JOIN (SELECT rule, substation, coalesce(status = 'waived', FALSE) AS waived FROM audit.finding)
              USING (substation)
            GROUP BY ALL
        ), asked AS (
            SELECT memo, rule, sum(satisfied)::BIGINT AS satisfied, sum(not_assessable)::BIGINT AS not_assessable,
                   sum(not_applicable)::BIGINT AS not_applicable
            FROM memo_station JOIN audit.outcome USING (substation) GROUP BY ALL
        )
        SELECT memo, rule, r.title, r.severity, coalesce("open", 0) AS "open", coalesce(waived, 0) AS waived,
               coalesce(satisfied, 0) AS satisfied, coalesce(not_assessable, 0) AS not_assessable,
               coalesce(not_applicable, 0) AS not_applicable
        FROM asked FULL JOIN found USING (memo, rule)
        LEFT JOIN (SELECT DISTINCT ON (rule) rule, title, severity FROM audit.rule WHERE problem IS NULL) r USING (rule)
        WHERE coalesce("open", 0) + coalesce(waived, 0) + coalesce(satisfied, 0) + coalesce(not_assessable, 0) > 0
        ORDER BY memo, {severity_order("r.severity")}, "open" DESC, rule
    """
    return rows_by_part(store, query)
