"""The few cell formats of the workbook: one dark head, one tint a severity, everything else plain."""

from collections.abc import Mapping
from typing import Any

from xlsxwriter import Workbook
from xlsxwriter.format import Format

FONT = {"font_name": "Arial", "font_size": 9, "valign": "top"}
HEAD = {"bold": True, "font_color": "#FFFFFF", "bg_color": "#33475B", "text_wrap": True, "valign": "vcenter"}
QUIET = "#EEF1F4"
RULED = {"bottom": 1, "bottom_color": "#D5DBE1"}
SEVERITY = {"high": "#F2C4BD", "medium": "#FAE3B4", "low": "#E4EAD2"}
CITED = "#FFF3C4"

INSET = {"align": "left", "indent": 1}

LOOKS: dict[str, dict[str, Any]] = {
    "column": {},
    "text": RULED,
    "wrap": RULED | {"text_wrap": True},
    "severity": RULED,
    "wrap_right": RULED | {"align": "right", "indent": 1, "text_wrap": True},
    "number": RULED | {"align": "right", "indent": 1},
    "count": RULED | {"align": "right", "indent": 1, "num_format": "#,##0"},
    "date": RULED | {"num_format": "yyyy-mm-dd", "align": "left"},
    "percent": RULED | {"align": "right", "indent": 1, "num_format": "0 %"},
    "link": RULED | {"font_color": "#1F5C99", "underline": 1, "text_wrap": True},
    "head": HEAD,
    "head_right": HEAD | {"align": "right", "indent": 1},
    "band": RULED | {"bold": True, "bg_color": QUIET, "text_wrap": True},
    "cited": RULED | {"bg_color": CITED, "bold": True},
    "title": {"bold": True, "font_size": 15, "font_color": "#33475B"},
    "heading": {"bold": True, "font_size": 11, "font_color": "#33475B", "bottom": 1, "bottom_color": "#33475B"},
    "sentence": {"text_wrap": True},
    "strong": {"bold": True, "text_wrap": True},
    "strong_count": {"align": "right", "indent": 1, "num_format": "#,##0", "bold": True},
    "quiet": {"font_color": "#5C6B7A", "italic": True},
    "quiet_wide": {"font_color": "#5C6B7A", "italic": True, "text_wrap": True},
    "answer": RULED
    | {"bg_color": CITED, "text_wrap": True, "locked": False, "num_format": "@"}
    | INSET,  # @: 4/0 is no date
    "answer_date": RULED | {"bg_color": CITED, "locked": False, "num_format": "yyyy-mm-dd", "align": "left"},
    "warning_line": {"bold": True},
    "warning": {"bg_color": SEVERITY["medium"], "text_wrap": True},
}
ANSWERS = frozenset(("answer", "answer_date"))
RIGHT = frozenset(("number", "count", "percent", "value"))
FAINT = {"font_color": "#76828F"}  # 3.9:1 on white: rows that are only kept in view
FILLED_IN = {"bg_color": "#D6E8D4"}
PAST = {"bg_color": SEVERITY["high"], "bold": True}


def severity_tint(severity: str) -> dict[str, Any]:
    """What tells a severity apart beside its word."""
    return {"bg_color": SEVERITY[severity], "bold": severity == "high"}


class Looks:
    """Formats by name, each made once in its workbook."""

    def __init__(self, book: Workbook) -> None:
        self._book = book
        self._made: dict[str, Format] = {}
        self._tints: dict[tuple[tuple[str, Any], ...], Format] = {}

    def __getitem__(self, name: str) -> Format:
        """The format; 'severity:high' is the cell of a severity that does not depend on what stands in it."""
        if name not in self._made:
            kind, _, severity = name.partition(":")
            facts = RULED | {"bg_color": SEVERITY.get(severity, QUIET), "bold": True} if severity else LOOKS[kind]
            self._made[name] = self._book.add_format(FONT | facts)
        return self._made[name]

    def tint(self, facts: Mapping[str, Any]) -> Format:
        """What a conditional format changes of the cells that it finds true."""
        key = tuple(sorted(facts.items()))
        if key not in self._tints:
            self._tints[key] = self._book.add_format(dict(facts))
        return self._tints[key]
