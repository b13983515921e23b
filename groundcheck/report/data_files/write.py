"""All data files of a store, their schemas, dictionary and manifest."""

import json
import tempfile
from collections.abc import Collection
from errno import ENOTDIR
from importlib.metadata import version
from pathlib import Path
from typing import Any

import duckdb

from groundcheck.errors import OutputFolderError
from groundcheck.report.data_files.copying import copy_table, copying
from groundcheck.report.data_files.dictionary import dictionary_page
from groundcheck.report.data_files.json_schema import json_schema
from groundcheck.report.data_files.tables import DATA_TABLES, FORMAT_VERSION, FORMATS
from groundcheck.report.rows import fetch
from groundcheck.store import Store

_MANIFEST = "manifest.json"
_PROGRAM = "groundcheck"


def write_data(store: Store, folder: str | Path, formats: Collection[str] = FORMATS) -> list[Path]:
    """
    Write every table in each format, and tell which files there are.

    All are made aside and moved into place once all are written; files of an earlier export that this one has not are
    taken away. Nothing else in the folder is touched.

    Raises
    ------
    OutputFolderError
        The folder can't be written, or holds a manifest.json that is not of an earlier export.
    ValueError
        A format is none of FORMATS.
    """
    unknown = sorted(set(formats) - set(FORMATS))
    if unknown:
        raise ValueError(f"no format {unknown[0]}; known are {', '.join(FORMATS)}")
    folder = Path(folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        earlier = _earlier_files(folder)
        with tempfile.TemporaryDirectory(prefix=".groundcheck-", dir=folder) as making:
            names = _write_all(store, Path(making), [form for form in FORMATS if form in formats])
            _check_kinds(folder, names)
            for name in earlier - set(names):
                (folder / name).unlink(missing_ok=True)
            for name in names:
                (folder / name).parent.mkdir(parents=True, exist_ok=True)
                (Path(making) / name).replace(folder / name)
    except (OSError, duckdb.IOException) as error:
        where = getattr(error, "filename", None) or folder
        reason = getattr(error, "strerror", None) or str(error).splitlines()[0]
        raise OutputFolderError(
            f"data folder {folder}: {where} cannot be written ({reason}); name another folder, or close the file"
        ) from error
    return [folder / name for name in names]


def _write_all(store: Store, folder: Path, formats: list[str]) -> list[str]:
    """Write all, and tell the names of the files, the manifest last: who sees it sees the rest."""
    names, listed = [], []
    with copying(store) as connection:
        for table in DATA_TABLES.values():
            (folder / table.name).parent.mkdir(parents=True, exist_ok=True)
            files = {form: f"{table.name}.{form}" for form in formats}
            rows = [copy_table(connection, table, folder / name, form) for form, name in files.items()]
            schema = f"schema/{table.name}.json"
            _write_json(folder / schema, json_schema(table))
            names += [*files.values(), schema]
            count = rows[0] if rows else fetch(store, f"SELECT count(*) FROM {table.source}")[0][0]
            facts = {"table": table.name, "rows": count, "columns": list(table.columns)}
            listed.append(facts | {"schema": schema, "files": files})
    dictionary = "schema/data_dictionary.md"
    (folder / dictionary).write_text(dictionary_page(), encoding="utf-8", newline="\n")
    _write_json(folder / _MANIFEST, _manifest(store, formats, listed))
    return [*names, dictionary, _MANIFEST]


def _manifest(store: Store, formats: list[str], tables: list[dict[str, Any]]) -> dict[str, Any]:
    """What the files are of: the last audit that the store holds."""
    columns = ("run", "made_at", "as_of", "version", "method", "tolerances")
    told = fetch(store, f"SELECT {', '.join(columns)} FROM audit.run ORDER BY run DESC LIMIT 1")
    run = dict(zip(columns, told[0], strict=True)) if told else dict.fromkeys(columns)
    return {
        "format_version": FORMAT_VERSION,
        "program": _PROGRAM,
        "program_version": version(_PROGRAM),
        "run": run["run"],
        "made_at": run["made_at"],
        "as_of": str(run["as_of"]) if run["as_of"] else None,
        "audited_with_version": run["version"],
        "method": run["method"],
        "tolerances": run["tolerances"],
        "formats": formats,
        "dictionary": "schema/data_dictionary.md",
        "tables": tables,
    }


def _earlier_files(folder: Path) -> set[str]:
    """The data files that an earlier export left."""
    path = folder / _MANIFEST
    if not path.exists():
        return set()
    try:
        told = json.loads(path.read_text(encoding="utf-8"))
        ours = told["program"] == _PROGRAM and "format_version" in told
    except (ValueError, TypeError, KeyError):
        ours = False
    if not ours:
        raise OutputFolderError(
            f"data folder {folder}: {_MANIFEST} there is of another program, and would be overwritten; "
            "name another folder"
        )
    return {f"{name}.{form}" for name in DATA_TABLES for form in FORMATS}


def _check_kinds(folder: Path, names: Collection[str]) -> None:
    """See that nothing of another kind stands where a file or folder is to go, before anything is moved."""
    for name in names:
        path = folder / name
        if path.is_dir() or (path.parent.exists() and not path.parent.is_dir()):
            raise NotADirectoryError(ENOTDIR, "a file or folder of that name is there", str(path))


def _write_json(path: Path, content: Any) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    text = json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False)
    path.write_text(text + "\n", encoding="utf-8", newline="\n")
