"""Data files: every row of every table, in the form that the published schema says, the same each time."""

import csv
import json
import math
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import duckdb
import pytest
from jsonschema import Draft202012Validator

from groundcheck.errors import OutputFolderError
from groundcheck.own_files import FINDING_COLUMNS, OUTCOME_COLUMNS
from groundcheck.report.cell_text import csv_text
from groundcheck.report.data_files import DATA_TABLES, FORMAT_VERSION, FORMATS, write_data
from groundcheck.store import Store

PUBLISHED = json.loads((Path(__file__).parent / "published_names.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="session")
def sample_data(sample_store: Store, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The data files of the sample fleet."""
    folder = tmp_path_factory.mktemp("data")
    write_data(sample_store, folder)
    return folder


def json_rows(folder: Path, name: str) -> list[dict[str, Any]]:
    with (folder / f"{name}.jsonl").open(encoding="utf-8", newline="\n") as file:
        return [json.loads(line, parse_constant=pytest.fail) for line in file]


def csv_rows(folder: Path, name: str) -> list[dict[str, str]]:
    with (folder / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def parquet_rows(folder: Path, name: str) -> list[dict[str, Any]]:
    relation = duckdb.sql(f"SELECT * FROM read_parquet('{folder / name}.parquet')")
    return [dict(zip(relation.columns, row, strict=True)) for row in relation.fetchall()]


def as_json(value: Any) -> Any:
    """A value of the store as JSON Lines are said to hold it."""
    if isinstance(value, float) and math.isinf(value):
        return "Infinity" if value > 0 else "-Infinity"
    return value.isoformat() if isinstance(value, date) else value


def test_schemas_are_json_schemas_with_a_version(sample_data: Path) -> None:
    for name in DATA_TABLES:
        schema = json.loads((sample_data / "schema" / f"{name}.json").read_text(encoding="utf-8"))
        Draft202012Validator.check_schema(schema)
        assert schema["$id"] == f"urn:groundcheck:data:{FORMAT_VERSION}:{name.replace('/', ':')}"
    properties = json.loads((sample_data / "schema/study/bus_fault.json").read_text(encoding="utf-8"))["properties"]
    assert properties["line_to_ground_ka"]["x-unit"] == "kA"


def test_every_row_of_the_sample_fleet_is_valid(sample_data: Path) -> None:
    rows = 0
    for name in DATA_TABLES:
        schema = json.loads((sample_data / "schema" / f"{name}.json").read_text(encoding="utf-8"))
        validator = Draft202012Validator(schema)
        for row in json_rows(sample_data, name):
            assert list(row) == list(schema["properties"])
            assert [error.message for error in validator.iter_errors(row)] == []
            rows += 1
    assert rows > 10_000


def test_every_format_holds_what_the_store_holds(sample_store: Store, sample_data: Path) -> None:
    manifest = json.loads((sample_data / "manifest.json").read_text(encoding="utf-8"))
    assert [each["table"] for each in manifest["tables"]] == list(DATA_TABLES)
    for each, table in zip(manifest["tables"], DATA_TABLES.values(), strict=True):
        columns = ", ".join(f'"{name}"' for name in table.columns)
        stored = sample_store.sql(f"SELECT {columns} FROM {table.source}").fetchall()
        given = [tuple(row.values()) for row in parquet_rows(sample_data, table.name)]
        assert sorted(map(repr, given)) == sorted(map(repr, stored)), table.name
        texts = [[as_json(value) for value in row] for row in given]
        assert [list(row.values()) for row in json_rows(sample_data, table.name)] == texts
        assert len(csv_rows(sample_data, table.name)) == len(stored) == each["rows"]
        assert each["columns"] == list(table.columns)
        assert each["files"] == {form: f"{table.name}.{form}" for form in FORMATS}


def test_manifest_tells_of_which_audit_the_files_are(sample_store: Store, sample_data: Path) -> None:
    manifest = json.loads((sample_data / "manifest.json").read_text(encoding="utf-8"))
    run, made_at, as_of, method = sample_store.sql("SELECT run, made_at, as_of, method FROM audit.run").fetchall()[0]
    assert (manifest["run"], manifest["made_at"], manifest["method"]) == (run, made_at, method)
    assert manifest["as_of"] == as_of.isoformat()
    assert manifest["format_version"] == FORMAT_VERSION


def test_equal_stores_give_equal_files_whatever_the_order_of_their_rows(
    filled_store: Store, sample_store: Store, sample_data: Path, tmp_path: Path
) -> None:
    for stage in ("raw", "inventory", "study", "audit"):
        filled_store.clear(stage)
    for table in DATA_TABLES.values():
        shuffled = sample_store.sql(f"SELECT * FROM {table.source} ORDER BY random()").to_arrow_table()
        filled_store.write(table.stage, table.table, shuffled)
    write_data(filled_store, tmp_path)
    for name in DATA_TABLES:
        for form in ("csv", "jsonl"):
            assert (tmp_path / f"{name}.{form}").read_bytes() == (sample_data / f"{name}.{form}").read_bytes(), name
        assert parquet_rows(tmp_path, name) == parquet_rows(sample_data, name)


def test_infinite_number_is_said_in_each_format(filled_store: Store, fill: Callable[..., None], tmp_path: Path) -> None:
    device = {"substation": "ASH", "rated_current": -math.inf, "rated_time": math.inf}
    fill(filled_store, "inventory.neutral_device", device | {"neutral_device": "NR0"})
    write_data(filled_store, tmp_path)
    name = "inventory/neutral_device"
    told = [(row["rated_time"], row["rated_current"]) for row in csv_rows(tmp_path, name)]
    assert told == [("inf", "-inf"), ("", "400.0")]
    told = [(row["rated_time"], row["rated_current"]) for row in json_rows(tmp_path, name)]
    assert told == [("Infinity", "-Infinity"), (None, 400.0)]
    told = [(row["rated_time"], row["rated_current"]) for row in parquet_rows(tmp_path, name)]
    assert told == [(math.inf, -math.inf), (None, 400.0)]


def test_hostile_text_is_text_in_each_format(
    filled_store: Store, fill: Any, finding: dict[str, Any], hostile_texts: dict[str, str], tmp_path: Path
) -> None:
    names = ("finding", "asset", "message", "district", "working")
    for station, text in hostile_texts.items():
        fill(filled_store, "audit.finding", finding | dict.fromkeys(names, text) | {"substation": station})
        device = {"substation": station, "neutral_device": text, "connected_to": [text, text]}
        fill(filled_store, "inventory.neutral_device", device)
    write_data(filled_store, tmp_path)
    for rows in (json_rows, parquet_rows, csv_rows):
        findings = {row["substation"]: row for row in rows(tmp_path, "findings")}
        devices = {row["substation"]: row for row in rows(tmp_path, "inventory/neutral_device")}
        for station, text in hostile_texts.items():
            shown = csv_text(text) if rows is csv_rows else text
            assert {findings[station][name] for name in names} == {shown}
            assert devices[station]["neutral_device"] == shown
            both = csv_text(f"{text}; {text}") if rows is csv_rows else [text, text]
            assert devices[station]["connected_to"] == both


def test_text_longer_than_a_cell_is_cut_in_csv_only(
    filled_store: Store, fill: Any, finding: Any, tmp_path: Path
) -> None:
    long = "x" * 40_000
    fill(filled_store, "audit.finding", finding | {"finding": "f-0", "substation": "AAA", "message": long})
    write_data(filled_store, tmp_path)
    told = {rows: {row["finding"]: row for row in rows(tmp_path, "findings")} for rows in (json_rows, csv_rows)}
    assert told[json_rows]["f-0"]["message"] == long
    assert told[csv_rows]["f-0"]["message"] == csv_text(long)


def test_folder_keeps_what_is_not_an_earlier_export(filled_store: Store, tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    write_data(filled_store, tmp_path, ["csv", "parquet"])
    assert (tmp_path / "findings.parquet").exists()
    write_data(filled_store, tmp_path, ["csv"])
    assert (tmp_path / "notes.txt").read_text() == "mine"
    assert not list(tmp_path.rglob("*.parquet"))
    assert not list(tmp_path.glob(".groundcheck-*"))
    assert json.loads((tmp_path / "manifest.json").read_text())["formats"] == ["csv"]


def test_manifest_of_another_program_is_not_overwritten(filled_store: Store, tmp_path: Path) -> None:
    (tmp_path / "manifest.json").write_text("{}")
    with pytest.raises(OutputFolderError) as refusal:
        write_data(filled_store, tmp_path)
    assert str(refusal.value) == (
        f"data folder {tmp_path}: manifest.json there is of another program, and would be overwritten; "
        "name another folder"
    )
    assert [each.name for each in tmp_path.iterdir()] == ["manifest.json"]


def test_file_in_place_of_the_folder_is_told(filled_store: Store, tmp_path: Path) -> None:
    (tmp_path / "study").write_text("a file")
    with pytest.raises(
        OutputFolderError, match=r"study.* cannot be written \(a file or folder of that name is there\)"
    ):
        write_data(filled_store, tmp_path, ["csv"])
    assert [each.name for each in tmp_path.iterdir()] == ["study"]


def test_report_lists_have_the_names_of_the_data_files() -> None:
    assert set(FINDING_COLUMNS) <= set(DATA_TABLES["findings"].columns)
    assert set(OUTCOME_COLUMNS) == set(DATA_TABLES["outcomes"].columns)


def test_no_published_name_goes_without_a_new_version() -> None:
    """published_names.json holds the names of the version it states; raise FORMAT_VERSION and store them anew."""
    now = {name: list(table.columns) for name, table in DATA_TABLES.items()}
    then: dict[str, list[str]] = PUBLISHED["tables"]
    gone = {f"{name}.{column}" for name in then for column in set(then[name]) - set(now.get(name, ()))}
    major, now_major = (version.partition(".")[0] for version in (PUBLISHED["version"], FORMAT_VERSION))
    assert not gone or int(now_major) > int(major), f"raise the major number: {sorted(gone)} went"
    assert (PUBLISHED["version"] != FORMAT_VERSION) or now == then, "raise the minor number: something was added"
    assert PUBLISHED["version"] == FORMAT_VERSION, "store the names of this version in published_names.json"
