"""A store of many stations from one of a few: those with findings many times over, their tags with a number behind."""

import re
from pathlib import Path

from groundcheck.store import Store

# Records of an audit as a whole, which the larger one has once too.
_ONCE = {"run", "rule", "past_rule", "kept_record", "record_change", "disposition"}
# Words that are the same at every station, though a colon stands in them.
_SAME = {"rule", "unit", "field", "asset_kind", "why", "input", "value", "found", "remedy", "caution", "basis"}
_IN_PROSE = {"message", "working", "missing"}
_STATIONS_A_DISTRICT = 100


def blow_up(small: Path, large: Path, times: int) -> None:
    """Write a new store in which every station of another that has a finding stands `times` times, others once."""
    with Store(large) as store:
        connection = store.connection
        connection.execute(f"ATTACH '{small}' AS small (READ_ONLY)")
        stations = [
            tag for (tag,) in connection.execute("FROM small.inventory.substation SELECT substation").fetchall()
        ]
        any_of = "|".join(re.escape(tag) for tag in sorted(stations, key=len, reverse=True))
        tables = connection.execute(
            "SELECT schema_name, table_name FROM duckdb_tables() WHERE database_name = 'small' ORDER BY ALL"
        ).fetchall()
        for stage, name in tables:
            columns = connection.execute(f'DESCRIBE small.{stage}."{name}"').fetchall()
            copies = 1 if stage == "raw" or name in _ONCE else times
            picked = ", ".join(
                f'{_value(stage, name, column, kind, any_of)} AS "{column}"' if copies > 1 else f'"{column}"'
                for column, kind, *_ in columns
            )
            with_findings = "WHERE k = 0 OR substation IN (SELECT substation FROM small.audit.finding)"
            kept = with_findings if "substation" in [column for column, *_ in columns] else ""
            connection.execute(
                f'INSERT INTO groundcheck.{stage}."{name}" BY NAME '
                f'SELECT {picked} FROM small.{stage}."{name}" CROSS JOIN range({copies}) r(k) {kept}'
            )
        connection.execute("DETACH small")


def _value(stage: str, table: str, column: str, kind: str, any_of: str) -> str:
    """A column of copy number k, in SQL."""
    own, tail = f'"{column}"', "printf('-%04d', k)"
    if column == "finding":
        return f"if(k = 0, {own}, 'F' || left(md5({own} || '/' || k), 10))"
    if column == "substation" or column.endswith("_substation"):
        return f"{own} || {tail}"
    if (stage, table, column) == ("inventory", "substation", "name"):
        return f"{own} || ' ' || k"
    if column == "district":
        return f"{own} || if(k < {_STATIONS_A_DISTRICT}, '', ' ' || (k // {_STATIONS_A_DISTRICT} + 1))"
    if column in _SAME or kind not in ("VARCHAR", "VARCHAR[]"):
        return own
    if kind == "VARCHAR[]":
        if stage == "audit":
            return own
        return f"list_transform({own}, lambda x: regexp_replace(x, '^({any_of}):', '\\1' || {tail} || ':'))"
    start = "" if stage == "audit" and column in _IN_PROSE else "^"
    told = f"regexp_replace({own}, '{start}\\b({any_of}):', '\\1' || {tail} || ':', 'g')"
    if column == "asset" and stage == "audit":
        names_kind = table in ("finding", "past_finding", "missing_field", "result", "outcome")
        return f"if(asset_kind = 'substation', {own} || {tail}, {told})" if names_kind else told
    return told
