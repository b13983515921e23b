"""
The columns of the exception workbook that a person fills in, and the hidden one that tells what the program wrote.

A mark is JSON in plain letters, underscores written as their number: nothing in it that a spreadsheet program, or the
escapes of its file format, could take for anything else.
"""

import json
import re
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from groundcheck.waivers.waiver import ACCEPTED, KEPT, OPEN, SUBJECT, Waiver, kept_text, rounded

EXCEPTIONS_SHEET = "Exceptions"
WAIVERS_SHEET = "Waivers"
FINDING = "finding"
FILLED_IN = ("disposition", "by", "until", "remark")
AS_WRITTEN = "as written"

_ESCAPE = re.compile(r"_x([0-9A-Fa-f]{4})_")
_DATES = ("until", "accepted_on")


@dataclass(frozen=True)
class Cells:
    """The four cells of a row: the disposition, who, until when, and the remark, which is the reason of a waiver."""

    disposition: str = OPEN
    by: str | None = None
    until: date | None = None
    remark: str | None = None


@dataclass(frozen=True)
class RowMark:
    """What the program wrote into a row of Exceptions: the finding with its numbers, and the four cells."""

    facts: dict[str, Any]
    cells: Cells
    over: tuple[str, ...]


def row_mark(finding: dict[str, Any], cells: Cells, over: tuple[str, ...] = ()) -> str:
    """The hidden text of a row of Exceptions; `finding` is a row of audit.finding."""
    named = {name: finding[name] for name in (*SUBJECT, "item") if finding[name]}
    facts = {
        "finding": finding["finding"],
        **(named if all(len(text) <= KEPT for text in named.values()) else {}),
        "severity": finding["severity"],
        "unit": kept_text(finding["unit"]),
    }
    for side in ("actual", "required"):
        number = rounded(finding[f"{side}_value"])
        facts[side] = number if number is not None else kept_text(finding[side])
    return _written({"facts": facts, "cells": asdict(cells), "over": over})


def read_row_mark(text: str) -> RowMark | None:
    """The mark of a row of Exceptions; None if the text is none."""
    tree = _read(text)
    try:
        cells = dict(tree["cells"])
        return RowMark(tree["facts"], Cells(**_with_dates(cells)), tuple(tree["over"]))
    except (KeyError, TypeError, ValueError):
        return None


def waiver_mark(waiver: Waiver) -> str:
    """The hidden text of a row of Waivers."""
    return _written({key: value for key, value in asdict(waiver).items() if value not in (None, "", (), False)})


def read_waiver_mark(text: str, source: str, place: str) -> Waiver | None:
    """The waiver of a row of Waivers; None if the text is no mark."""
    tree = _read(text)
    try:
        facts = _with_dates({**tree, "over": tuple(tree.get("over", ()))})
        return Waiver(**{**facts, "source": source, "place": place})
    except (KeyError, TypeError, ValueError, AttributeError):
        return None


def cells_of_waiver(waiver: Waiver) -> Cells:
    """The four cells of a finding that is waived."""
    return Cells(ACCEPTED, waiver.by, waiver.until, waiver.reason)


def reads_alike(found: Cells, written: Cells) -> bool:
    """Whether cells read are those written, whatever control characters and blanks the file format has changed."""
    return found.until == written.until and all(
        _plain(getattr(found, name)) == _plain(getattr(written, name)) for name in ("disposition", "by", "remark")
    )


def _plain(text: str | None) -> str:
    unescaped = _ESCAPE.sub(lambda match: chr(int(match[1], 16)), text or "")
    return "".join(letter for letter in unescaped if letter.isprintable() and not letter.isspace())


def _written(tree: dict[str, Any]) -> str:
    return json.dumps(tree, default=str, sort_keys=True).replace("_", "\\u005f")


def _read(text: str) -> Any:
    try:
        return json.loads(text)
    except ValueError:
        return None


def _with_dates(facts: dict[str, Any]) -> dict[str, Any]:
    return facts | {name: date.fromisoformat(facts[name]) for name in _DATES if facts.get(name)}
