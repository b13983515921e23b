"""A store filled by hand: two stations, three findings, one of each other record that a report shows."""

from collections.abc import Callable, Iterator
from typing import Any

import pandas as pd
import pytest

from groundcheck.store import Store

HOSTILE = {
    "formula": "=1+1",
    "call": "@SUM(A1:A9)",
    "plus": "+T1",
    "minus": "-T1",
    "tab": "\t=1+1",
    "markup": "<script>alert('x')</script>",
    "rich": "<r><t>x</t></r>",
    "escape": "_x0041_",
    "control": "a\x00b\x07c\x1bd",
    "hidden": "\x01=1+1",
    "lines": 'two "quoted"\r\nlines',
    "right_to_left": "\u200fمحطة\u202e",
    "link": "https://example.org/",
}

FINDING = {
    "finding": "f-1",
    "rule": "neutral-devices/rated-current",
    "severity": "high",
    "substation": "ASH",
    "asset_kind": "neutral_device",
    "asset": "NR1",
    "message": "NR1 is rated 400 A; its duty is 640 A",
    "actual": "400",
    "required": "640",
    "unit": "A",
    "provisional": False,
    "robustness": "firm",
    "source_file": "north.xlsx",
    "sheet": "Resistors",
    "cell": "C6",
    "status": "open",
    "remedy": "a device rated 640 A or more",
    "working": "640 A let-through x 1 margin = 640 A",
    "caution": "Isolate and prove dead first.",
    "basis": "common practice, no source",
    "district": "North",
}


QUESTION = {
    "question": 1,
    "subject": "heading",
    "file": "north.xlsx",
    "sheet": "Resistors",
    "cell": "C5",
    "found": "Amps",
    "candidates": "rated_current; continuous_current",
    "cells": 3,
    "answer": '"Amps" = "rated_current"',
}
NOTED_CELL = {
    "file": "north.xlsx",
    "sheet": "Resistors",
    "row": 7,
    "cell": "C7",
    "raw_row": 7,
    "target_table": "neutral_device",
    "field": "rated_current",
    "found": "300",
    "read_as": "300",
    "note": "said to be approximate",
    "tolerance": 0.1,
}


def fill_table(store: Store, name: str, *rows: dict[str, Any]) -> None:
    """Append rows to a table named stage.table."""
    stage, _, table = name.partition(".")
    store.write(stage, table, pd.DataFrame(list(rows)))


def fill_record(store: Store) -> None:
    """What ingest would have left of two files."""
    fill_table(
        store,
        "raw.file",
        {"file": "north.xlsx", "sha256": "a", "size": 1, "reader": "workbook"},
        {"file": "broken.xlsx", "sha256": "b", "size": 1, "reader": "workbook", "problem": "no workbook inside"},
    )
    fill_table(
        store,
        "raw.account",
        {"file": "north.xlsx", "sheet": "Resistors", "rows_read": 8, "rows_used": 3, "rows_quarantined": 1}
        | {"heading_rows": 1, "note_rows": 2, "blank_rows": 1, "hidden": False},
    )
    cells = {5: ["Site", "NER", "Amps"], 6: ["ASH", "NR1", "400"], 7: ["ELM", "NR2", "300"], 8: ["ELM", None, "-5"]}
    uses = {5: "heading", 6: "inventory", 7: "inventory", 8: "quarantine"}
    for row, text in cells.items():
        place = {"raw_row": row, "file": "north.xlsx", "sheet": "Resistors", "row": row, "region": 1}
        fill_table(store, "raw.row", place | {"use": uses[row], "cells": text})
    for letter, heading, field in (("A", "Site", "substation"), ("B", "NER", "neutral_device"), ("C", "Amps", None)):
        fill_table(
            store,
            "raw.column_map",
            {"file": "north.xlsx", "sheet": "Resistors", "region": 1, "column_letter": letter, "heading": heading}
            | {"target_table": "neutral_device", "part": 1, "field": field, "how": "alias", "certainty": 1.0},
        )
    fill_table(
        store,
        "raw.quarantine",
        {"file": "north.xlsx", "sheet": "Resistors", "row": 8, "cell": "C8", "raw_row": 8, "found": "-5"}
        | {"target_table": "neutral_device", "reason": "key_missing", "expected": "a tag"},
    )
    fill_table(store, "raw.question", QUESTION)
    fill_table(store, "raw.noted_cell", NOTED_CELL)
    fill_table(
        store,
        "raw.skipped",
        {"file": "~$north.xlsx", "reason": "lock file of a spreadsheet program"},
        {"file": "~$south.xlsx", "reason": "lock file of a spreadsheet program"},
        {"file": "letter.docx", "reason": "of no kind that is read"},
    )
    fill_table(
        store,
        "inventory.substation",
        {"substation": "ASH", "district": "North", "raw_row": 6},
        {"substation": "ELM", "district": "South"},
    )
    fill_table(
        store, "inventory.neutral_device", {"substation": "ASH", "neutral_device": "NR1", "rated_current": 400.0}
    )


def fill_audit(store: Store) -> None:
    """One rule that ran, one that was refused, three findings, one check that could not be made."""
    rule = FINDING["rule"]
    fill_table(
        store,
        "audit.rule",
        {"rule": rule, "rulebook": "groundcheck_rules", "title": "Fault current exceeds the rating", "severity": "high"}
        | {"basis": "common practice, no source", "why": "It overheats.", "asks": "neutral_device"},
        {"rule": "local/spare", "rulebook": "local", "title": "Spare", "problem": "the query returns no column `ok`"},
    )
    fill_table(
        store,
        "audit.finding",
        FINDING | {"finding": "f-3", "severity": "low", "district": "South", "substation": "ELM", "cell": "C7"},
        FINDING
        | {"finding": "f-2", "severity": "medium", "asset": "NR2", "cell": None, "source_file": None, "sheet": None},
        FINDING,
    )
    fill_table(
        store,
        "audit.evidence",
        {"finding": "f-1", "position": 1, "role": "input", "computed": False, "asset": "NR1", "value": "400"}
        | {"input": "neutral_device.rated_current"}
        | {"unit": "A", "source_file": "north.xlsx", "sheet": "Resistors", "cell": "C6", "found": "400"},
        {
            "finding": "f-1",
            "position": 2,
            "role": "input",
            "computed": True,
            "input": "neutral_duty.current_a",
            "asset": "NR1",
            "value": "640",
            "unit": "A",
        },
        {"finding": "f-1", "position": 1001, "role": "basis", "computed": False, "input": "infeed.x_over_r"}
        | {"asset": "Q", "value": "10", "source_file": "north.xlsx", "sheet": "Supplies", "cell": "D4", "found": "10"},
    )
    fill_table(
        store,
        "audit.outcome",
        {"rule": rule, "substation": "ASH", "satisfied": 4, "exceptions": 2, "not_assessable": 0, "not_applicable": 1},
        {"rule": rule, "substation": "ELM", "satisfied": 0, "exceptions": 1, "not_assessable": 1, "not_applicable": 0},
    )
    asked = {"rule": rule, "substation": "ELM", "asset_kind": "neutral_device", "asset": "NR9", "item": None}
    fill_table(store, "audit.result", asked | {"outcome": "not_assessable"})
    fill_table(
        store,
        "audit.missing_field",
        asked
        | {"blocking_substation": "ELM", "blocking_asset_kind": "neutral_device", "blocking_asset": "NR9"}
        | {"field": "rated_current", "source_file": "north.xlsx", "sheet": "Resistors", "cell": "C9"},
    )
    fill_table(
        store,
        "audit.run",
        {"made_at": "2025-01-02T03:04:05", "version": "0.1.0", "method": "nominal voltage", "policy": "[study]"}
        | {"tolerance": 0.05},
    )


@pytest.fixture
def empty_store() -> Iterator[Store]:
    with Store() as store:
        yield store


@pytest.fixture
def filled_store(empty_store: Store) -> Store:
    fill_record(empty_store)
    fill_audit(empty_store)
    return empty_store


@pytest.fixture
def fill() -> Callable[..., None]:
    """Append rows to a table named stage.table."""
    return fill_table


@pytest.fixture
def finding() -> dict[str, Any]:
    """A row of audit.finding."""
    return dict(FINDING)


@pytest.fixture
def question() -> dict[str, Any]:
    """The open question of the filled store."""
    return dict(QUESTION)


@pytest.fixture
def noted_cell() -> dict[str, Any]:
    """The noted cell of the filled store."""
    return dict(NOTED_CELL)


@pytest.fixture(params=HOSTILE.values(), ids=HOSTILE.keys())
def hostile_text(request: pytest.FixtureRequest) -> str:
    """Text that a careless writer would make live, or choke on."""
    return str(request.param)


@pytest.fixture
def hostile_texts() -> dict[str, str]:
    """All of them."""
    return dict(HOSTILE)
