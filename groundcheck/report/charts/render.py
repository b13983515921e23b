"""Pictures of charts as files, drawn without a browser."""

from typing import Any
from xml.sax.saxutils import escape

import vl_convert

from groundcheck.report.charts.chart import Chart

WIDTH = 720  # of a chart that takes the width of what holds it
_VERSION = "5.21"


def chart_svg(chart: Chart, *, dark: bool = False, width: int = WIDTH) -> str:
    """The chart as SVG; its description stands in it for those who read instead of look."""
    svg = str(vl_convert.vegalite_to_svg(_of_width(chart.spec(dark), width), vl_version=_VERSION))
    words = f"<title>{escape(chart.title)}</title><desc>{escape(chart.description)}</desc>"
    head, _, rest = svg.partition(">")
    return f'{head} role="img">{words}{rest}'


def chart_png(chart: Chart, *, dark: bool = False, scale: float = 2.0, width: int = WIDTH) -> bytes:
    """The chart as PNG, `scale` pixels for each of its own."""
    return bytes(vl_convert.vegalite_to_png(_of_width(chart.spec(dark), width), vl_version=_VERSION, scale=scale))


def _of_width(spec: dict[str, Any], width: int) -> dict[str, Any]:
    return spec | {"width": width, "padding": 12} if spec["width"] == "container" else spec | {"padding": 12}
