"""How far each finding stands from what is required, by rule."""

import math
from typing import Any

from groundcheck.report.charts.chart import Body, Chart, Row, part, standing_channels
from groundcheck.report.charts.labels import label, listed, value
from groundcheck.report.charts.look import SMALL
from groundcheck.report.marks import STANDINGS, paper
from groundcheck.report.overview import counted
from groundcheck.report.rows import fetch, severity_order
from groundcheck.store import Store

MOST_MARKS = 2_000
MOST_RULES = 150
LEAST, MOST = 1.0, 10_000.0  # per cent; what lies beyond stands in the strip at the edge
BINS_A_DECADE = 8
_LEFT = {"zero", "below", "no limit required"}

# In per cent of required. A requirement without limit, or none at all, has no such number, nor has an actual value
# on the other side of zero.
_FINDINGS = f"""
    SELECT rule, CASE WHEN severity IN ('high', 'medium') THEN severity ELSE 'low' END AS severity, finding, substation,
           asset, item, actual, required, unit, coalesce(robustness = 'marginal', FALSE) AS marginal,
           coalesce(status = 'waived', FALSE) AS waived,
           CASE WHEN isfinite(actual_value) AND isfinite(required_value) AND required_value <> 0
                     AND actual_value / required_value >= 0
                THEN 100 * actual_value / required_value END AS per_cent,
           CASE WHEN per_cent = 0 THEN 'zero' WHEN per_cent < {LEAST} THEN 'below' WHEN per_cent > {MOST} THEN 'above'
                WHEN per_cent IS NOT NULL THEN 'within'
                WHEN isinf(required_value) AND required_value > 0 AND NOT isinf(actual_value) THEN 'no limit required'
                WHEN isinf(actual_value) AND actual_value > 0 AND NOT isinf(required_value) THEN 'without limit'
                ELSE 'no percentage' END AS place
    FROM audit.finding
    WHERE actual_value IS NOT NULL AND required_value IS NOT NULL
          AND NOT isnan(actual_value) AND NOT isnan(required_value)
"""


def margins_chart(store: Store) -> Chart | None:
    """A mark a finding, or where there are too many of them a mark a bin; None if no finding has numbers."""
    rules = _rules(store)
    if not rules:
        return None
    span = _Span(store)
    number = sum(count for _, _, count in rules)
    binned = number > MOST_MARKS
    shown = {rule for rule, _, _ in rules[:MOST_RULES]}
    rows = _binned_rows(store, span, shown) if binned else _finding_rows(store, span, shown)
    largest = max((row.get("findings", 0) for row in rows), default=0)
    lines = _lines([rule for rule, _, _ in rules[:MOST_RULES]])
    marginal, waived, numberless = _others(store)
    return Chart(
        name="margins",
        title="Margins: actual value as a percentage of what is required",
        description=_told(store, number, len(rules), marginal, waived),
        rows=rows,
        draw=lambda dark: _draw(dark, lines, span, binned),
        filters={"rule": "rule", "severity": "severity"} | ({} if binned else {"substation": "substation"}),
        note=" ".join(_notes(span, largest, numberless, len(rules) - MOST_RULES)),
    )


def _rules(store: Store) -> list[tuple[str, str, int]]:
    """Rule, its worst severity, count of its findings with numbers; the worst first within the worst subject."""
    return fetch(
        store,
        f"""
        WITH each AS (
            SELECT rule, min_by(severity, {severity_order("severity")}) AS severity, count(*) AS findings
            FROM ({_FINDINGS}) GROUP BY rule
        )
        SELECT rule, severity, findings FROM each
        ORDER BY max(findings * CASE severity WHEN 'high' THEN 1e6 WHEN 'medium' THEN 1e3 ELSE 1 END)
                     OVER (PARTITION BY split_part(rule, '/', 1)) DESC,
                 split_part(rule, '/', 1), {severity_order("severity")}, findings DESC, rule
        """,
    )


def _others(store: Store) -> tuple[int, int, int]:
    """How many findings with numbers are marginal, how many waived; how many findings have no numbers."""
    marginal, waived, number = fetch(
        store, f"SELECT count(*) FILTER (marginal), count(*) FILTER (waived), count(*) FROM ({_FINDINGS})"
    )[0]
    return marginal, waived, fetch(store, "SELECT count(*) FROM audit.finding")[0][0] - number


def _notes(span: "_Span", largest: int, numberless: int, rules_left_out: int) -> list[str]:
    notes = ["Left of 100 %: less than required; right of it: more than allowed."]
    if span.left or span.right:
        notes.append("The edges beyond the dashed lines are not to scale.")
    notes.append("Hollow: marginal, so that tolerances of what is on record may turn it. Faint: waived.")
    if largest:
        notes.append(f"A larger mark stands for more findings, the largest for {largest:,}.")
    if numberless:
        notes.append(f"Not drawn: {counted(numberless, 'finding')} without numbers to compare.")
    if rules_left_out > 0:
        notes.append(f"Not drawn: {counted(rules_left_out, 'rule')} of the subjects with least trouble.")
    return notes


def _told(store: Store, number: int, rules: int, marginal: int, waived: int) -> str:
    places = dict(fetch(store, f"SELECT place, count(*) FROM ({_FINDINGS}) GROUP BY place"))
    below, above, low, middle, high = fetch(
        store,
        f"SELECT count(*) FILTER (per_cent < 100), count(*) FILTER (per_cent >= 100), min(per_cent), "
        f"median(per_cent), max(per_cent) FROM ({_FINDINGS})",
    )[0]
    told = [f"{counted(number, 'finding')} of {counted(rules, 'rule')}, actual as a percentage of required."]
    if low is not None:
        told.append(
            f"{below:,} below 100 % (less than required), {above:,} at or above it (more than allowed); "
            f"smallest {_per_cent(low)}, median {_per_cent(middle)}, largest {_per_cent(high)}."
        )
    words = {
        "zero": "at 0 %",
        "below": f"below {LEAST:g} %",
        "no limit required": "where nothing short of no limit would do",
        "above": f"above {MOST:,.0f} %",
        "without limit": "where the actual value has no limit",
        "no percentage": "where required is zero or has the other sign",
    }
    for side in ("left", "right"):
        edges = [
            f"{places[place]:,} {said}"
            for place, said in words.items()
            if place in places and (place in _LEFT) == (side == "left")
        ]
        if edges:
            told.append(f"At the {side} edge: {listed(edges)}.")
    if marginal or waived:
        told.append(f"{marginal:,} marginal, {waived:,} waived.")
    return " ".join(told)


class _Span:
    """The scale: from where to where it goes, whether in equal ratios, and where its edges stand."""

    def __init__(self, store: Store) -> None:
        low, high = fetch(store, f"SELECT min(per_cent), max(per_cent) FROM ({_FINDINGS}) WHERE place = 'within'")[0]
        low, high = min(low or 100.0, 100.0), max(high or 100.0, 100.0)
        places = {row[0] for row in fetch(store, f"SELECT DISTINCT place FROM ({_FINDINGS})")}
        self.left = bool(places & _LEFT)
        self.right = bool(places & {"above", "without limit", "no percentage"})
        self.log = high > 10 * low or high > 500
        if self.log:
            self.low = 10.0 ** math.floor(math.log10(low) + 1e-9)
            self.high = next(
                each
                for power in range(2, 5)
                for each in (1.0 * 10**power, 2.0 * 10**power, 5.0 * 10**power)
                if each >= high * 1.05 or each >= MOST
            )
            room = (self.high / self.low) ** 0.07
            self.first, self.last = self.low / room, self.high * room
        else:
            self.low, self.high = 0.0, math.ceil(high * 1.05 / 50) * 50.0
            self.first, self.last = -0.07 * self.high, 1.07 * self.high

    @property
    def domain(self) -> list[float]:
        """What the axis spans, the strips at the edges included."""
        return [self.first if self.left else self.low, self.last if self.right else self.high]

    def at(self, place: str, per_cent: float | None) -> float:
        """Where a finding stands."""
        if place == "within" and per_cent is not None:
            return per_cent
        low, high = (
            (math.sqrt(self.first * self.low), math.sqrt(self.last * self.high))
            if self.log
            else (
                (self.first + self.low) / 2,
                (self.last + self.high) / 2,
            )
        )
        return low if place in _LEFT else high

    @property
    def ticks(self) -> list[float]:
        """Values that the axis names."""
        if not self.log:
            step = 25 if self.high <= 200 else 50 if self.high <= 400 else 100
            return [float(each) for each in range(0, int(self.high) + 1, step)]
        steps = (step * 10.0**power for power in range(round(math.log10(self.low)), 5) for step in (1, 2, 5))
        return [step for step in steps if step <= self.high]


def _edge_words(place: str) -> str:
    words = {"zero": "0 %", "below": f"below {LEAST:g} %", "above": f"above {MOST:,.0f} %", "within": ""}
    return words.get(place, place)


def _finding_rows(store: Store, span: _Span, shown: set[str]) -> list[Row]:
    rows: list[Row] = []
    for rule, severity, _, substation, asset, item, actual, required, unit, marginal, waived, per_cent, place in fetch(
        store, f"SELECT * FROM ({_FINDINGS}) ORDER BY waived DESC, {severity_order('severity')} DESC, rule, finding"
    ):
        if rule not in shown:
            continue
        rows.append(
            {
                "part": "mark",
                "rule": value(rule),
                "severity": severity,
                "at": _digits(span.at(place, per_cent)),
                "marginal": marginal,
                "waived": waived,
                "substation": value(substation),
                "asset": ", ".join(label(each, 40) for each in (substation, asset, item) if each),
                "actual": _with_unit(actual, unit),
                "required": _with_unit(required, unit),
                "told": (_edge_words(place) or f"{per_cent:.4g} %")
                + (", marginal" if marginal else "")
                + (", waived" if waived else ""),
            }
        )
    return rows + _edge_rows(store, span, shown)


def _binned_rows(store: Store, span: _Span, shown: set[str]) -> list[Row]:
    position = (
        f"pow(10, (floor(log10(per_cent) * {BINS_A_DECADE}) + 0.5) / {BINS_A_DECADE})"
        if span.log
        else f"(floor(per_cent / {span.high / 32}) + 0.5) * {span.high / 32}"
    )
    rows: list[Row] = []
    for rule, severity, place, marginal, waived, center, low, high, findings in fetch(
        store,
        f"""
        SELECT rule, severity, place, marginal, waived,
               CASE WHEN place = 'within' THEN CASE WHEN per_cent > 0 THEN {position} ELSE 0 END END AS center,
               min(per_cent), max(per_cent), count(*) AS findings
        FROM ({_FINDINGS}) GROUP BY ALL ORDER BY waived DESC, findings DESC, rule, severity, center
        """,
    ):
        if rule not in shown:
            continue
        at = min(max(span.at(place, center), span.domain[0]), span.domain[1])
        between = "" if low is None else f"{low:.3g} %" if low == high else f"{low:.3g} to {high:.3g} %"
        rows.append(
            {"part": "mark", "rule": value(rule), "severity": severity, "at": _digits(at), "findings": findings}
            | {"told": _edge_words(place) or between}
            | ({"marginal": True} if marginal else {})
            | ({"waived": True} if waived else {})
        )
    return rows + _edge_rows(store, span, shown)


def _edge_rows(store: Store, span: _Span, shown: set[str]) -> list[Row]:
    """The words beside the marks at the edges, once a rule."""
    found = fetch(
        store,
        "SELECT rule, string_agg(DISTINCT place, '; ' ORDER BY place), "
        "place IN ('zero', 'below', 'no limit required') AS left "
        f"FROM ({_FINDINGS}) WHERE place <> 'within' GROUP BY ALL ORDER BY ALL",
    )
    return [
        {
            "part": "left" if left else "right",
            "rule": value(rule),
            "at": _digits(span.at("below" if left else "above", None)),
            "text": "; ".join(_edge_words(place) for place in places.split("; ")),
        }
        for rule, places, left in found
        if rule in shown
    ]


def _per_cent(number: float) -> str:
    return f"{number:,.0f} %" if number >= 100 else f"{number:.3g} %"


def _digits(number: float) -> float:
    return float(f"{number:.5g}")


def _with_unit(text: str | None, unit: str | None) -> str:
    return label(f"{text} {unit}" if text and unit and text[-1].isdigit() else text, 60)


def _lines(rules: list[str]) -> list[str]:
    """What stands on the lines: each subject, followed by its rules."""
    lines: list[str] = []
    subject = None
    for rule in rules:
        if "/" in rule and rule.split("/")[0] != subject:
            subject = rule.split("/")[0]
            lines.append(f"{value(subject)}")
        lines.append(f"{value(rule)}")
    return lines


_IS_SUBJECT = "indexof(datum.value, '/') < 0"
_SHORT = f"{_IS_SUBJECT} ? datum.value : slice(datum.value, indexof(datum.value, '/') + 1)"


def _draw(dark: bool, lines: list[str], span: _Span, binned: bool) -> Body:
    sheet = paper(dark)
    scale: dict[str, Any] = {"type": "log" if span.log else "linear", "domain": span.domain, "nice": False}
    axis = {
        "orient": "top",
        "title": "actual, % of required" + (" (log scale)" if span.log else ""),
        "values": span.ticks,
        "format": ",d",
        "labelOverlap": "greedy",
        "grid": True,
    }
    x = {"field": "at", "type": "quantitative", "scale": scale, "axis": axis}
    y = {
        "field": "rule",
        "type": "ordinal",
        "scale": {"type": "band", "domain": lines, "paddingInner": 0, "paddingOuter": 0},
        "axis": {
            "title": None,
            "ticks": False,
            "domain": False,
            "grid": True,
            "gridOpacity": 0.5,
            "labelLimit": 150,
            "labelAlign": "left",
            "labelPadding": 152,
            "labelExpr": f"replace({_SHORT}, regexp('-', 'g'), ' ')",
            "labelFontWeight": {
                "condition": {"test": _IS_SUBJECT, "value": "bold"},
                "value": "normal",
            },
        },
    }
    tooltip = [{"field": "rule"}, {"field": "severity"}]
    if binned:
        tooltip += [{"field": "told", "title": "actual, % of required"}, {"field": "findings", "format": ",d"}]
    else:
        tooltip += [{"field": "asset"}, {"field": "actual"}, {"field": "required"}]
        tooltip += [{"field": "told", "title": "actual, % of required"}]
    encoding = {
        "x": x,
        "y": y,
        "tooltip": tooltip,
        "opacity": {"condition": {"test": "datum.waived", "value": 0.35}, "value": 0.9},
        **standing_channels("severity", [*STANDINGS][:3], dark, hollow_if="marginal"),
    }
    if binned:
        encoding["size"] = {
            "field": "findings",
            "type": "quantitative",
            "scale": {"type": "sqrt", "range": [12, 260]},
            "legend": None,
        }
    edges = [
        {
            "transform": part(side),
            "mark": {"type": "text", "align": align, "dx": dx, "fontSize": SMALL, "color": sheet.quiet_ink},
            "encoding": {"x": x, "y": y, "text": {"field": "text"}},
        }
        for side, align, dx in (("left", "left", 8), ("right", "right", -8))
    ]
    mark: dict[str, Any] = {"type": "point", "strokeWidth": 1.3, "cursor": "pointer"} | ({} if binned else {"size": 55})
    bounds = [each for each, strip in ((span.low, span.left), (span.high, span.right)) if strip]
    return {
        "height": 17 * max(len(lines), 1),
        "layer": [
            *(
                {
                    "data": {"values": [{}]},
                    "mark": {"type": "rule", "color": sheet.quiet_ink, "strokeDash": [4, 3]},
                    "encoding": {"x": {"datum": bound, "type": "quantitative", "scale": scale, "axis": axis}},
                }
                for bound in bounds
            ),
            {
                "data": {"values": [{}]},
                "mark": {"type": "rule", "color": sheet.ink, "strokeWidth": 1.2},
                "encoding": {"x": {"datum": 100, "type": "quantitative", "scale": scale, "axis": axis}},
            },
            {"transform": part("mark"), "mark": mark, "encoding": encoding},
            *edges,
        ],
    }
