"""Reading a column map from its TOML file; each mistake is named with its entry and the nearest right word."""

import tomllib
from hashlib import sha256
from pathlib import Path
from typing import Any

from groundcheck.errors import ColumnMapError
from groundcheck.ingest.mapping.column_map import ColumnMap, plain_name
from groundcheck.ingest.mapping.map_values import same_names, texts
from groundcheck.ingest.mapping.sheet_entry import read_sheet_entry
from groundcheck.nearest import nearest

TOP_KEYS = ("sheet", "precedence", "same_station", "same_tag")


def read_column_map(path: str | Path | None) -> ColumnMap:
    """
    Read and check a column map; an empty one if no path is given.

    Raises
    ------
    ColumnMapError
        The file can't be read, or names a table, field or key that does not exist.
    """
    if path is None:
        return ColumnMap()
    try:
        content = Path(path).read_bytes()
        tree = tomllib.loads(content.decode("utf-8-sig"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise ColumnMapError(f"{path}: cannot be read as TOML ({error})") from error
    return _read_tree(tree, Path(path).name, content)


def _read_tree(tree: dict[str, Any], name: str, content: bytes) -> ColumnMap:
    for key in tree:
        if key not in TOP_KEYS:
            raise ColumnMapError(
                f"{name}: no entry `{key}`; nearest is `{nearest(key, TOP_KEYS)}`; what concerns one sheet stands "
                "under [[sheet]]"
            )
    entries = tree.get("sheet", [])
    if not isinstance(entries, list) or any(not isinstance(entry, dict) for entry in entries):
        raise ColumnMapError(f"{name}: `sheet` is a single table; write [[sheet]] with two brackets")
    return ColumnMap(
        name,
        sha256(content).hexdigest(),
        len(content),
        [read_sheet_entry(entry, f"{name}, sheet entry {number}") for number, entry in enumerate(entries, 1)],
        texts(tree.get("precedence", ()), f"{name}, precedence"),
        same_names(tree.get("same_station", {}), f"{name}, same_station", plain_name),
        same_names(tree.get("same_tag", {}), f"{name}, same_tag", plain_name, with_station=True),
    )
