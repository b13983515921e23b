"""Tables copied to files by the database, each value as its format writes it."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import duckdb

from groundcheck.report.cell_text import CELL_LIMIT, csv_text
from groundcheck.report.data_files.json_schema import INFINITE
from groundcheck.report.data_files.tables import FORMAT_VERSION, DataTable
from groundcheck.schema import Column
from groundcheck.store import Store

_LISTS = ("references", "places")
_NUMBERS = ("quantity", "size")
_NO_TEXT = (*_NUMBERS, "count", "yes_no", "date")

# What csv_text may change; the few texts that look so are shown to it, one by one.
_SUSPECT = r"^[=+\-@\t]|[\x{0}-\x{8}\x{b}-\x{1f}\x{7f}-\x{9f}\x{fffe}\x{ffff}]"
_CSV_TEXT = "groundcheck_csv_text"


@contextmanager
def copying(store: Store) -> Iterator[duckdb.DuckDBPyConnection]:
    """A connection to the store's database on which `copy_table` works."""
    database = store.sql("SELECT current_database()").fetchall()[0][0]
    with store.connection.cursor() as connection:
        connection.execute(f'USE "{database}"')
        connection.create_function(_CSV_TEXT, csv_text, ["VARCHAR"], "VARCHAR")
        try:
            yield connection
        finally:
            connection.remove_function(_CSV_TEXT)


def copy_table(connection: duckdb.DuckDBPyConnection, table: DataTable, path: Path, form: str) -> int:
    """Write all rows of the table, in its order, and tell how many they are."""
    if form == "parquet":
        columns = ", ".join(f't."{name}"' for name in table.columns)
        facts = f"'groundcheck_format': '{FORMAT_VERSION}', 'groundcheck_table': '{table.name}'"
        options = f"FORMAT parquet, COMPRESSION zstd, KV_METADATA {{{facts}}}"
    elif form == "csv":
        columns = ", ".join(f'{_in_csv(column)} AS "{name}"' for name, column in table.columns.items())
        options = "FORMAT csv, HEADER true, DELIMITER ',', QUOTE '\"', ESCAPE '\"', NULLSTR ''"
    else:
        infinite = _infinite(connection, table)
        columns = ", ".join(_in_json(name) if name in infinite else f't."{name}"' for name in table.columns)
        options = "FORMAT json, ARRAY false"
    query = f"SELECT {columns} FROM {table.source} t ORDER BY {table.ordered_by}"
    row = connection.execute(f"COPY ({query}) TO '{_quoted(str(path))}' ({options})").fetchone()
    return int(row[0]) if row else 0


def _in_csv(column: Column) -> str:
    """The value as CSV has it: texts safe to open in a spreadsheet program."""
    name = f't."{column.name}"'
    if column.kind in _NO_TEXT:
        return name
    if column.kind in _LISTS:
        name = f"array_to_string({name}, '; ')"
    suspect = f"regexp_matches({name}, '{_SUSPECT}') OR length({name}) > {CELL_LIMIT // 2}"
    return f"CASE WHEN {suspect} THEN {_CSV_TEXT}({name}) ELSE {name} END"


def _in_json(name: str) -> str:
    """A number that may be infinite, which JSON has no number for."""
    above, below = INFINITE
    infinite = f'if(t."{name}" > 0, \'"{above}"\', \'"{below}"\')::JSON'
    return f'CASE WHEN isinf(t."{name}") THEN {infinite} ELSE to_json(t."{name}") END AS "{name}"'


def _infinite(connection: duckdb.DuckDBPyConnection, table: DataTable) -> set[str]:
    """The columns that hold an infinite number."""
    names = [name for name, column in table.columns.items() if column.kind in _NUMBERS]
    if not names:
        return set()
    asked = ", ".join(f'bool_or(isinf("{name}"))' for name in names)
    answer = connection.execute(f"SELECT {asked} FROM {table.source}").fetchone() or ()
    return {name for name, infinite in zip(names, answer, strict=True) if infinite}


def _quoted(text: str) -> str:
    return text.replace("'", "''")
