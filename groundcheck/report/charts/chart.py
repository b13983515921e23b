"""A chart: its rows, what it shows in words, and how it is drawn."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from groundcheck.report.charts.look import look
from groundcheck.report.marks import STANDINGS, paper

SCHEMA = "https://vega.github.io/schema/vega-lite/v5.json"
Row = dict[str, Any]
Body = dict[str, Any]


@dataclass(frozen=True)
class Chart:
    """
    One chart, on paper of either color.

    `title` stands outside of the drawing. `description` tells in words and numbers what the drawing shows. `draw` gives
    the spec of it, light or dark, without the rows. `filters` says by which of its fields a click on a mark filters the
    tables beside it; a mark where such a field is null does not filter by that. `note` says what is not drawn.
    """

    name: str
    title: str
    description: str
    rows: list[Row]
    draw: Callable[[bool], Body]
    filters: Mapping[str, str] = field(default_factory=dict)
    note: str = ""

    def frame(self, dark: bool = False) -> Body:
        """The spec with `data.values` left empty, so that rows written once serve both papers."""
        return {
            "$schema": SCHEMA,
            "description": self.description,
            "usermeta": {"filter": dict(self.filters)},
            "width": "container",
            "data": {"name": "rows", "values": []},
            "config": look(dark),
        } | self.draw(dark)

    def spec(self, dark: bool = False) -> Body:
        """The whole spec."""
        return self.frame(dark) | {"data": {"name": "rows", "values": self.rows}}


def part(name: str) -> list[Body]:
    """The transform that leaves the rows of one layer."""
    return [{"filter": {"field": "part", "equal": name}}]


def standing_channels(field: str, present: list[str], dark: bool, columns: int = 3, hollow_if: str = "") -> Body:
    """
    Shape, outline and fill by severity or standing, with one legend in words.

    `hollow_if` names a field of truth values whose marks are drawn hollow besides.
    """
    shown = [mark for key, mark in STANDINGS.items() if key in present]
    domain = [mark.key for mark in shown]
    fills = [mark.color(dark) if mark.filled else paper(dark).ground for mark in shown]
    words = ", ".join(f"{mark.key}: '{mark.word}'" for mark in shown)
    legend = {"title": None, "orient": "top", "columns": columns, "labelExpr": f"({{{words}}})[datum.label]"}
    legend |= {"symbolSize": 90}

    def channel(values: list[str]) -> Body:
        return {"field": field, "type": "nominal", "scale": {"domain": domain, "range": values}, "legend": legend}

    fill = channel(fills)
    if hollow_if:
        fill["condition"] = {"test": f"datum.{hollow_if}", "value": paper(dark).ground}
    return {
        "shape": channel([mark.shape for mark in shown]),
        "stroke": channel([mark.color(dark) for mark in shown]),
        "fill": fill,
    }
