"""The charts of a whole fleet, by the name under which the command line and the page know them."""

from collections.abc import Callable, Mapping

from groundcheck.report.charts.blocking_fields import blocking_fields_chart
from groundcheck.report.charts.chart import Chart
from groundcheck.report.charts.fleet import fleet_chart
from groundcheck.report.charts.margins import margins_chart
from groundcheck.report.charts.trend import trend_chart
from groundcheck.store import Store

CHARTS: Mapping[str, Callable[[Store], Chart | None]] = {
    "fleet": fleet_chart,
    "margins": margins_chart,
    "blocking-fields": blocking_fields_chart,
    "trend": trend_chart,
}
NOTHING: Mapping[str, str] = {
    "fleet": "No station is on record.",
    "margins": "No finding has an actual and a required value to compare.",
    "blocking-fields": "No check waits for a field that is not on record.",
    "trend": "The store holds one audit; a trend needs two.",
}


def fleet_charts(store: Store) -> dict[str, Chart | None]:
    """Each chart by its name; None where there is nothing to draw, for which NOTHING has the words."""
    return {name: make(store) for name, make in CHARTS.items()}
