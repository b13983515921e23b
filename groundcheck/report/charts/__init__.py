"""Charts of an audit as Vega-Lite specs, a file a chart, and their pictures; may import what report has of one file."""

from groundcheck.report.charts.all_charts import CHARTS, NOTHING, fleet_charts
from groundcheck.report.charts.blocking_fields import blocking_fields_chart
from groundcheck.report.charts.chart import Chart
from groundcheck.report.charts.fleet import fleet_chart
from groundcheck.report.charts.look import look
from groundcheck.report.charts.margins import margins_chart
from groundcheck.report.charts.phasors import Phasors, phasors_chart, station_phasors, zone_phasors
from groundcheck.report.charts.render import chart_png, chart_svg
from groundcheck.report.charts.trend import trend_chart

__all__ = [
    "CHARTS",
    "NOTHING",
    "Chart",
    "Phasors",
    "blocking_fields_chart",
    "chart_png",
    "chart_svg",
    "fleet_chart",
    "fleet_charts",
    "look",
    "margins_chart",
    "phasors_chart",
    "station_phasors",
    "trend_chart",
    "zone_phasors",
]
