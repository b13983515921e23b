"""The DuckDB store: one schema a stage, tables derived from the models."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from types import TracebackType
from typing import Any

import duckdb
import pandas as pd
import pyarrow as pa

from groundcheck.errors import StoreError
from groundcheck.schema import STAGES, create_table, sql_columns

# Cells by name. The column of a sheet that has a column an asset is the number of one of its rows; where one value
# has a place of its own, its column is that cell.
_MACROS = (
    """column_place(letters) AS CASE
        WHEN letters IS NULL THEN NULL
        WHEN regexp_full_match(letters, '[0-9]+') THEN letters::INTEGER
        WHEN regexp_full_match(letters, '[A-Z]+[0-9]+') THEN NULL
        ELSE ascii(right(letters, 1)) - 64
             + CASE WHEN length(letters) > 1 THEN 26 * (ascii(letters[-2]) - 64) ELSE 0 END
             + CASE WHEN length(letters) > 2 THEN 676 * (ascii(letters[-3]) - 64) ELSE 0 END END""",
    """column_letters(place) AS
        CASE WHEN place > 702 THEN chr((65 + (place - 703) // 676)::INTEGER) ELSE '' END
        || CASE WHEN place > 26 THEN chr((65 + ((place - 27) // 26) % 26)::INTEGER) ELSE '' END
        || chr((65 + (place - 1) % 26)::INTEGER)""",
    """cell_name(letters, row) AS CASE
        WHEN regexp_full_match(letters, '[0-9]+') THEN column_letters(row) || letters
        WHEN regexp_full_match(letters, '[A-Z]+[0-9]+') THEN letters
        ELSE letters || row END""",
)

# DuckDB would fetch an extension that a query asks for; nothing here needs one.
_NOTHING_FROM_ELSEWHERE: dict[str, str | bool | int | float | list[str]] = {
    "autoinstall_known_extensions": "false",
    "autoload_known_extensions": "false",
}


class Store:
    """A DuckDB database that holds all stages; in memory if no path is given."""

    def __init__(self, path: str | Path | None = None) -> None:
        """
        Open the store, making what is not there.

        Raises
        ------
        StoreError
            The file is no DuckDB database, is locked, or has tables of another version.
        """
        self.path = Path(path) if path is not None else None
        try:
            self.connection = duckdb.connect(":memory:", config=_NOTHING_FROM_ELSEWHERE)
            if path is not None:
                # Attached under a name of ours: by its own name, a file audit.duckdb would hide the schema audit.
                self.connection.execute(f"ATTACH '{str(path).replace(chr(39), chr(39) * 2)}' AS groundcheck")
                self.connection.execute("USE groundcheck")
        except duckdb.Error as error:
            raise StoreError(f"{path}: cannot be opened as a store ({str(error).splitlines()[0]})") from error
        for stage, tables in STAGES.items():
            self.connection.execute(f"CREATE SCHEMA IF NOT EXISTS {stage}")
            for name in tables:
                self.connection.execute(create_table(stage, name))
        for macro in _MACROS:
            self.connection.execute(f"CREATE OR REPLACE TEMP MACRO {macro}")
        self._check_version()

    def _check_version(self) -> None:
        present: dict[tuple[str, str], set[str]] = {}
        rows = self.connection.execute(
            "SELECT table_schema, table_name, column_name FROM information_schema.columns"
        ).fetchall()
        for stage, name, column in rows:
            present.setdefault((stage, name), set()).add(column)
        for stage, tables in STAGES.items():
            for name, model in tables.items():
                missing = set(sql_columns(model)) - present[(stage, name)]
                if missing:
                    raise StoreError(
                        f"{self.path}: table {stage}.{name} has no column {sorted(missing)[0]}; "
                        "the store was made by another version: name a new file"
                    )

    def __enter__(self) -> "Store":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the database."""
        self.connection.close()

    def sql(self, query: str, parameters: Any = None) -> duckdb.DuckDBPyRelation:
        """Run a query over all stages."""
        return self.connection.sql(query, params=parameters)

    def frame(self, query: str, parameters: Any = None) -> pd.DataFrame:
        """Run a query and give a frame."""
        return self.connection.execute(query, parameters or []).df()

    def read(self, stage: str, name: str) -> pd.DataFrame:
        """One table of one stage."""
        return self.frame(f'SELECT * FROM {stage}."{name}"')

    def write(self, stage: str, name: str, frame: pd.DataFrame | pa.Table) -> None:
        """
        Append a frame to a table, column by name; a column that the frame lacks is NULL.

        NaN in a DataFrame becomes NULL: it means not on record, and in SQL a NaN would sort above every number.
        """
        if len(frame) == 0:
            return
        present = frame.columns if isinstance(frame, pd.DataFrame) else frame.column_names
        wanted = [column for column in sql_columns(STAGES[stage][name]) if column in present]
        names = ", ".join(f'"{column}"' for column in wanted)
        incoming = frame[wanted] if isinstance(frame, pd.DataFrame) else frame  # noqa: F841 (DuckDB finds it by name)
        self.connection.execute(f'INSERT INTO {stage}."{name}" ({names}) SELECT {names} FROM incoming')

    def settle(self) -> None:
        """Put all that was written into the file itself."""
        self.connection.execute("CHECKPOINT groundcheck")

    def copy_to(self, path: str | Path) -> None:
        """Put all tables into a new database file, which another process may open."""
        name = self.connection.execute("SELECT current_database()").fetchall()[0][0]
        self.connection.execute(f"ATTACH '{str(path).replace(chr(39), chr(39) * 2)}' AS a_copy")
        try:
            self.connection.execute(f'COPY FROM DATABASE "{name}" TO a_copy')
        finally:
            self.connection.execute("DETACH a_copy")

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """All that is written within it, or nothing of it."""
        self.connection.execute("BEGIN TRANSACTION")
        try:
            yield
        except BaseException:
            # A query that was stopped may have ended the transaction already.
            with suppress(duckdb.TransactionException):
                self.connection.execute("ROLLBACK")
            raise
        self.connection.execute("COMMIT")

    def clear(self, stage: str, *names: str) -> None:
        """Empty the named tables of a stage, or all of them."""
        for name in names or tuple(STAGES[stage]):
            self.connection.execute(f'DELETE FROM {stage}."{name}"')


@contextmanager
def whole_or_not_at_all(path: str | Path | None) -> Iterator[Store]:
    """
    A store to work in, which takes the place of the file only once all is done; in memory if no path is given.

    The work is done in a copy beside the file, so that what is stopped or fails leaves the file as it was. One in
    memory is left open.

    Raises
    ------
    StoreError
        The file is no DuckDB database, is locked, or has tables of another version.
    """
    if path is None:
        yield Store()
        return
    target = Path(path)
    working = target.with_name(f".{target.name}.part")
    is_new = not target.exists()
    Store(target).close()
    try:
        if is_new:
            target.unlink()
            working.unlink(missing_ok=True)
        else:
            _said_of(path, lambda: shutil.copyfile(target, working))
        with Store(working) as store:
            yield store
            store.settle()
        _said_of(path, lambda: working.replace(target))
    finally:
        working.unlink(missing_ok=True)
        working.with_name(f"{working.name}.wal").unlink(missing_ok=True)


def _said_of(path: str | Path, work: Callable[[], object]) -> None:
    try:
        work()
    except OSError as error:
        raise StoreError(f"{path}: cannot be written ({error.strerror or error}); close what has it open") from error
