"""Fonts and colors of every chart, on light and on dark paper."""

from typing import Any

from groundcheck.report.marks import paper

# The renderer of files carries the first with it; the others have the same widths, so that text keeps its place.
FONT = "Liberation Sans, Arial, Helvetica, sans-serif"
SMALL, TEXT = 10, 11


def look(dark: bool = False, font: str = FONT) -> dict[str, Any]:
    """The `config` of a spec."""
    sheet = paper(dark)
    axis = {
        "domainColor": sheet.rule,
        "tickColor": sheet.rule,
        "gridColor": sheet.rule,
        "gridOpacity": 0.6,
        "labelColor": sheet.ink,
        "labelFontSize": TEXT,
        "labelFontWeight": "normal",
        "titleColor": sheet.quiet_ink,
        "titleFontSize": TEXT,
        "titleFontWeight": "normal",
    }
    legend = {
        "labelColor": sheet.ink,
        "labelFontSize": TEXT,
        "labelLimit": 200,
        "titleColor": sheet.quiet_ink,
        "titleFontSize": TEXT,
        "titleFontWeight": "normal",
        "symbolStrokeWidth": 1.5,
    }
    return {
        "font": font,
        "background": sheet.ground,
        "view": {"stroke": None},
        "axis": axis,
        "legend": legend,
        "text": {"color": sheet.ink, "fontSize": TEXT},
        "rule": {"color": sheet.rule},
        "locale": {"number": {"decimal": ".", "thousands": ",", "grouping": [3], "currency": ["", ""]}},
    }
