"""The charts of the page: rows once, and how they are drawn on light and on dark paper."""

import hashlib
from typing import Any

import orjson

from groundcheck.report.charts import Chart, fleet_charts, phasors_chart, station_phasors
from groundcheck.report.facts import StationFacts
from groundcheck.report.one_line import one_line_key_svg
from groundcheck.store import Store


def fleet_pictures(store: Store) -> list[dict[str, Any]]:
    """The pictures of the fleet, in the order in which the page shows them."""
    return [picture(chart) for chart in fleet_charts(store).values() if chart is not None]


Frames = dict[str, dict[str, Any]]


def phasor_pictures(station: StationFacts, frames: Frames) -> list[dict[str, Any]]:
    """
    The phasors of each zone of a station, before and during a ground fault; where there are none, why.

    How they are drawn is alike at most zones: that goes into `frames`, by a name under which the picture knows it.
    """
    pictures = []
    for phasors in station_phasors(station):
        chart = phasors_chart(phasors)
        told = _framed(picture(chart), frames) if chart else {"reason": phasors.reason}
        pictures.append({"zone": phasors.zone, **told})
    return pictures


def picture(chart: Chart) -> dict[str, Any]:
    """What the browser needs to draw a chart, to tell it in words, and to let its marks filter."""
    return {
        "name": chart.name,
        "title": chart.title,
        "description": chart.description,
        "note": chart.note,
        "filters": dict(chart.filters),
        "rows": chart.rows,
        "light": chart.frame(False),
        "dark": chart.frame(True),
    }


def diagram_key() -> str:
    """The key of the symbols in one-line diagrams, as SVG."""
    return one_line_key_svg()


def _framed(told: dict[str, Any], frames: Frames) -> dict[str, Any]:
    frame = {paper: {k: v for k, v in told.pop(paper).items() if k != "description"} for paper in ("light", "dark")}
    name = hashlib.sha256(orjson.dumps(frame)).hexdigest()[:16]
    frames.setdefault(name, frame)
    return {**told, "frame": name}
