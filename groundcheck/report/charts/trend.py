"""Findings of the audits that the store holds, one after the other."""

from groundcheck.report.charts.chart import Body, Chart, Row, part, standing_channels
from groundcheck.report.charts.labels import label
from groundcheck.report.charts.look import SMALL
from groundcheck.report.marks import HIGH, LOW, MEDIUM, WAIVED
from groundcheck.report.overview import counted
from groundcheck.report.rows import fetch
from groundcheck.store import Store

MOST_AUDITS = 24
_MARKS = (HIGH, MEDIUM, LOW, WAIVED)


def trend_chart(store: Store) -> Chart | None:
    """Open findings by severity, and waived ones, audit by audit; None if the store holds fewer than two audits."""
    found = fetch(
        store,
        """
        SELECT r.run, r.made_at,
               count(*) FILTER (severity = 'high' AND NOT waived)   AS high,
               count(*) FILTER (severity = 'medium' AND NOT waived) AS medium,
               count(*) FILTER (severity NOT IN ('high', 'medium') AND NOT waived) AS low,
               count(*) FILTER (waived)                             AS waived
        FROM audit.run r
        LEFT JOIN (SELECT run, severity, coalesce(status = 'waived', FALSE) AS waived FROM audit.past_finding) f
             USING (run)
        GROUP BY ALL ORDER BY r.run
        """,
    )
    if len(found) < 2:
        return None
    audits = found[-MOST_AUDITS:]
    rows: list[Row] = []
    most = max(max(counts) for _, _, *counts in audits)
    for run, made_at, *counts in audits:
        date = _day(made_at)
        for mark, findings, side in zip(_MARKS, counts, _sides(counts, most), strict=True):
            rows.append(
                {
                    "part": "audit",
                    "run": run,
                    "audit": f"{date}|audit {run}",
                    "made_at": label(str(made_at or ""), 40),
                    "standing": mark.key,
                    "severity": mark.key if mark is not WAIVED else None,
                    "status": "waived" if mark is WAIVED else None,
                    "findings": findings,
                    "text": f"{findings:,}",
                    "side": side,
                    "word": mark.word,
                }
            )
    first, last = audits[0], audits[-1]
    changes = ", ".join(f"{mark.word} {first[2 + place]:,} to {last[2 + place]:,}" for place, mark in enumerate(_MARKS))
    left_out = len(found) - len(audits)
    return Chart(
        name="trend",
        title="Findings audit by audit",
        description=f"Open findings by severity, and waived ones, over {counted(len(audits), 'audit')} from "
        f"{_day(first[1])} to {_day(last[1])}: {changes}.",
        rows=rows,
        draw=lambda dark: _draw(dark, len(audits)),
        filters={"run": "run", "severity": "severity", "status": "status"},
        note=f"{counted(left_out, 'audit')} before these {'is' if left_out == 1 else 'are'} not drawn."
        if left_out
        else "",
    )


def _day(made_at: object) -> str:
    """The day of a time written as ISO 8601."""
    return label(str(made_at or ""), 40).split("T")[0] or "no date"


def _sides(counts: list[int], most: int) -> list[str]:
    """Whether each number stands above or below its mark, or is left to the tooltip, so that none covers another."""
    sides = [""] * len(counts)
    order = sorted(range(len(counts)), key=lambda place: -counts[place])
    higher, side = None, "above"
    for place in order:
        near = higher is not None and higher - counts[place] < 0.1 * most
        side = "above" if not near else "below" if side == "above" else ""
        sides[place] = side
        higher = counts[place]
    return sides


def _draw(dark: bool, audits: int) -> Body:
    crowded = audits > 6
    x = {
        "field": "audit",
        "type": "ordinal",
        "sort": None,
        "axis": {"title": None, "labelAngle": -90 if crowded else 0, "labelLimit": 120}
        | {"labelExpr": "replace(datum.label, '|', ', ')" if crowded else "split(datum.label, '|')"},
        "scale": {"type": "point", "padding": 0.5},
    }
    y = {
        "field": "findings",
        "type": "quantitative",
        "axis": {"title": "findings", "format": ",d", "tickMinStep": 1, "tickCount": 5},
    }
    channels = standing_channels("standing", [mark.key for mark in _MARKS], dark, columns=4)
    color = channels["stroke"]
    dash = {
        "field": "standing",
        "type": "nominal",
        "legend": color["legend"],
        "scale": {"domain": [mark.key for mark in _MARKS], "range": [[1, 0], [7, 3], [2, 2], [1, 4]]},
    }
    tooltip = [
        {"field": "made_at", "title": "audit of"},
        {"field": "word", "title": "severity"},
        {"field": "findings", "format": ",d"},
    ]
    return {
        "height": 220,
        "layer": [
            {
                "transform": part("audit"),
                "mark": {"type": "line", "strokeWidth": 1.5},
                "encoding": {"x": x, "y": y, "stroke": color, "strokeDash": dash},
            },
            {
                "transform": part("audit"),
                "mark": {"type": "point", "size": 80, "opacity": 1, "strokeWidth": 1.5, "cursor": "pointer"},
                "encoding": {"x": x, "y": y, "tooltip": tooltip, **channels},
            },
            *(
                {
                    "transform": [*part("audit"), {"filter": {"field": "side", "equal": side}}],
                    "mark": {"type": "text", "dy": dy, "fontSize": SMALL},
                    "encoding": {"x": x, "y": y, "text": {"field": "text"}},
                }
                for side, dy in (("above", -11), ("below", 12))
            ),
        ],
    }
