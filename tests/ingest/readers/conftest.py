"""Files of every kind that is read, with the same cells, and reading one of them."""

import importlib.util
import io
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import openpyxl
import pandas as pd
import pytest
import xlwt

from groundcheck.ingest.readers.files import read_files
from groundcheck.ingest.sheets import SourceFile

BUSES = [["Station", "Bus", "Nominal kV"], ["ELM", "B1", 33.0], ["Ash Lane", "B2", 11.0]]


def _load(name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(name, Path(__file__).with_name(f"{name}.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def xlsb_bytes() -> Callable[..., bytes]:
    """Write an .xlsb workbook."""
    return _load("xlsb_writer").xlsb_bytes


@pytest.fixture
def read_one(tmp_path: Path) -> Callable[..., SourceFile]:
    """Read one file of this content under this name."""

    def run(content: bytes, name: str) -> SourceFile:
        path = tmp_path / name
        path.write_bytes(content)
        [source] = read_files([(name, path)])
        return source

    return run


def _xlsx(rows: list[list[Any]]) -> bytes:
    workbook = openpyxl.Workbook()
    for row in rows:
        workbook.active.append(row)
    stream = io.BytesIO()
    workbook.save(stream)
    return stream.getvalue()


def _xls(rows: list[list[Any]]) -> bytes:
    workbook = xlwt.Workbook()
    sheet = workbook.add_sheet("Sheet")
    for number, row in enumerate(rows):
        for column, cell in enumerate(row):
            sheet.write(number, column, cell)
    stream = io.BytesIO()
    workbook.save(stream)
    return stream.getvalue()


def _frame(rows: list[list[Any]]) -> pd.DataFrame:
    return pd.DataFrame(rows[1:], columns=rows[0])


def _ods(rows: list[list[Any]]) -> bytes:
    stream = io.BytesIO()
    _frame(rows).to_excel(stream, engine="odf", index=False)
    return stream.getvalue()


def _parquet(rows: list[list[Any]]) -> bytes:
    stream = io.BytesIO()
    _frame(rows).to_parquet(stream)
    return stream.getvalue()


def _text(delimiter: str, encoding: str) -> Callable[[list[list[Any]]], bytes]:
    return lambda rows: "\n".join(delimiter.join(map(str, row)) for row in rows).encode(encoding)


@pytest.fixture(scope="session")
def content_of(xlsb_bytes) -> dict[str, bytes]:
    """The same table as a file of every kind, by suffix."""
    return {
        ".xlsx": _xlsx(BUSES),
        ".xlsb": xlsb_bytes({"Sheet": BUSES}),
        ".xls": _xls(BUSES),
        ".ods": _ods(BUSES),
        ".parquet": _parquet(BUSES),
        ".csv": _text(",", "utf-8")(BUSES),
        ".tsv": _text("\t", "utf-16")(BUSES),
    }
