"""Data for the browser: columns coded by dictionary, as compressed text that no markup can hide in."""

import base64
import gzip
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import orjson


def coded(values: Iterable[Any]) -> dict[str, list[Any]]:
    """A column as its different values and, for each row, which of them it holds; None is a value like any other."""
    places: dict[Any, int] = {}
    codes = [places.setdefault(value, len(places)) for value in values]
    return {"words": list(places), "codes": codes}


def coded_table(names: Sequence[str], rows: Iterable[Sequence[Any]]) -> dict[str, Any]:
    """Rows as columns, each coded."""
    columns = list(zip(*rows, strict=True)) or [() for _ in names]
    return {"rows": len(columns[0]), "columns": {n: coded(each) for n, each in zip(names, columns, strict=True)}}


def packed(value: Mapping[str, Any] | Sequence[Any], level: int = 6) -> str:
    """
    The value as JSON, compressed, in base 64: letters, digits, +, / and = only.

    A float without limit or without value becomes null, as JSON knows neither.
    """
    text = orjson.dumps(value, option=orjson.OPT_NON_STR_KEYS)
    return base64.b64encode(gzip.compress(text, level, mtime=0)).decode("ascii")
