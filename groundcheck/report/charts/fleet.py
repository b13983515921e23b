"""The fleet: every station in its district, by its worst open finding."""

from collections.abc import Sequence
from itertools import groupby
from typing import Any

from groundcheck.report.charts.chart import Body, Chart, Row, part, standing_channels
from groundcheck.report.charts.labels import label, led, listed, value
from groundcheck.report.charts.look import SMALL
from groundcheck.report.marks import STANDINGS, paper
from groundcheck.report.overview import counted
from groundcheck.report.rows import fetch
from groundcheck.store import Store

MOST_MARKS = 2_000
MOST_DISTRICTS = 60
NO_DISTRICT = "district not on record"
_ORDER = {key: place for place, key in enumerate(STANDINGS)}
_TITLE = "Stations by district and worst open finding"

_STATIONS = """
    WITH found AS (
        SELECT substation, any_value(district)                               AS district,
               count(*) FILTER (severity = 'high' AND NOT waived)            AS high,
               count(*) FILTER (severity = 'medium' AND NOT waived)          AS medium,
               count(*) FILTER (severity NOT IN ('high', 'medium') AND NOT waived) AS low,
               count(*) FILTER (waived)                                      AS waived
        FROM (SELECT *, coalesce(status = 'waived', FALSE) AS waived FROM audit.finding) GROUP BY substation
    ), asked AS (
        SELECT substation, sum(not_assessable)::BIGINT AS not_assessable FROM audit.outcome GROUP BY substation
    ), station AS (
        SELECT coalesce(s.substation, f.substation) AS substation, any_value(s.name) AS name,
               coalesce(any_value(s.district), any_value(f.district)) AS district
        FROM inventory.substation s FULL JOIN found f USING (substation) GROUP BY ALL
    )
    SELECT substation, name, nullif(s.district, '') AS district,
           coalesce(high, 0) AS high, coalesce(medium, 0) AS medium, coalesce(low, 0) AS low,
           coalesce(not_assessable, 0) AS not_assessable, coalesce(waived, 0) AS waived,
           CASE WHEN high > 0 THEN 'high' WHEN medium > 0 THEN 'medium' WHEN low > 0 THEN 'low'
                WHEN not_assessable > 0 THEN 'not_assessable' WHEN waived > 0 THEN 'waived' ELSE 'none' END AS standing
    FROM station s LEFT JOIN found f USING (substation) LEFT JOIN asked a USING (substation)
    WHERE substation IS NOT NULL
"""

# The district with most stations in the worst standing comes first.
_TROUBLE = """
    trouble AS (
        SELECT district, count(*) AS stations, count(*) FILTER (standing = 'high') AS worst,
               row_number() OVER (ORDER BY count(*) FILTER (standing = 'high') DESC,
                                           count(*) FILTER (standing = 'medium') DESC,
                                           count(*) FILTER (standing = 'low') DESC,
                                           count(*) FILTER (standing = 'not_assessable') DESC, district) AS place
        FROM standing GROUP BY district
    )
"""


def fleet_chart(store: Store) -> Chart | None:
    """A mark a station, or where there are too many of them a bar a district; None if no station is on record."""
    counts = dict(fetch(store, f"SELECT standing, count(*) FROM ({_STATIONS}) GROUP BY standing"))
    if not counts:
        return None
    query = f"WITH standing AS ({_STATIONS}), {_TROUBLE} SELECT count(*) FROM trouble"
    districts = int(fetch(store, query)[0][0])
    if sum(counts.values()) > MOST_MARKS or districts > MOST_DISTRICTS:
        return _bars(store, counts, districts)
    return _marks(store, counts, districts)


def _told(counts: dict[str, int], districts: int) -> str:
    """The count of stations in each standing, in words."""
    said = {
        "high": "whose worst open finding is high",
        "medium": "whose worst is medium",
        "low": "whose worst is low",
        "not_assessable": "without an open finding but with checks not assessable",
        "waived": "with waived findings only",
        "none": "without a finding",
    }
    parts = [f"{counts[key]:,} {told}" for key, told in said.items() if key in counts]
    return f"{counted(sum(counts.values()), 'station')} in {counted(districts, 'district')}: {listed(parts)}."


def _heading(district: str | None, stations: int, worst: int) -> str:
    high = f", {worst:,} high" if worst else ""
    return led(label(district, 28) or NO_DISTRICT, f": {counted(stations, 'station')}{high}")


def _marks(store: Store, counts: dict[str, int], districts: int) -> Chart:
    found = fetch(
        store,
        f"""
        WITH standing AS ({_STATIONS}), {_TROUBLE}
        SELECT t.stations, t.worst, s.*
        FROM standing s JOIN trouble t ON s.district IS NOT DISTINCT FROM t.district
        ORDER BY t.place, list_position({list(STANDINGS)}, standing), high DESC, medium DESC, low DESC, substation
        """,
    )
    largest = max(row[0] for row in found)
    across = max(8, largest) if largest <= 12 else 24 if largest <= 240 else 40
    rows: list[Row] = []
    line = 0
    for _, members in groupby(found, key=lambda row: row[4]):
        line = _district_rows(rows, list(members), line, across) + 1
    tagged = largest <= 12
    return Chart(
        name="fleet",
        title=_TITLE,
        description=f"One mark a station, grouped by district, the worst first. {_told(counts, districts)}",
        rows=rows,
        draw=lambda dark: _draw_marks(dark, across, line, tagged, list(counts)),
        filters={"district": "district", "substation": "substation"},
    )


def _district_rows(rows: list[Row], members: Sequence[tuple[Any, ...]], line: int, across: int) -> int:
    """Append the heading and the stations of one district; gives the last line that they take."""
    stations, worst, _, _, district, *_ = members[0]
    rows.append(
        {
            "part": "heading",
            "line": line,
            "district": value(district) or NO_DISTRICT,
            "text": _heading(district, stations, worst),
        }
    )
    for place, (_, _, substation, name, _, high, medium, low, missing, waived, standing) in enumerate(members):
        rows.append(
            {
                "part": "station",
                "line": line + 1 + place // across,
                "at": place % across + 0.5,
                "standing": standing,
                "district": value(district) or NO_DISTRICT,
                "substation": value(substation),
                "tag": label(substation, 6),
                "station": label(substation, 40) + (f", {label(name, 60)}" if name and name != substation else ""),
                "in_district": label(district) or NO_DISTRICT,
                "high": high,
                "medium": medium,
                "low": low,
                "waived": waived,
                "missing": missing,
            }
        )
    return line + 1 + (len(members) - 1) // across


def _draw_marks(dark: bool, across: int, lines: int, tagged: bool, present: list[str]) -> Body:
    x = {"field": "at", "type": "quantitative", "axis": None, "scale": {"domain": [0, across], "nice": False}}
    y = {
        "field": "line",
        "type": "ordinal",
        "axis": None,
        "scale": {"type": "band", "domain": list(range(lines)), "paddingInner": 0, "paddingOuter": 0},
    }
    tooltip = [
        {"field": "station", "title": "station"},
        {"field": "in_district", "title": "district"},
        {"field": "high", "title": "open, high"},
        {"field": "medium", "title": "open, medium"},
        {"field": "low", "title": "open, low"},
        {"field": "waived", "title": "waived"},
        {"field": "missing", "title": "checks not assessable"},
    ]
    layers: list[Body] = [
        {
            "transform": part("heading"),
            "mark": {
                "type": "text",
                "align": "left",
                "baseline": "bottom",
                "dy": 9,
                "fontWeight": "bold",
                "limit": 340,
            },
            "encoding": {"x": {"datum": 0, "type": "quantitative", "axis": None}, "y": y, "text": {"field": "text"}},
        },
        {
            "transform": part("station"),
            "mark": {"type": "point", "size": 110 if tagged else 70 if across <= 24 else 40, "strokeWidth": 1.3}
            | {"opacity": 1, "yOffset": -4 if tagged else 0, "cursor": "pointer"},
            "encoding": {"x": x, "y": y, "tooltip": tooltip, **standing_channels("standing", present, dark)},
        },
    ]
    if tagged:
        layers.append(
            {
                "transform": part("station"),
                "mark": {"type": "text", "dy": 11, "fontSize": SMALL, "color": paper(dark).quiet_ink},
                "encoding": {"x": x, "y": y, "text": {"field": "tag"}},
            }
        )
    return {"height": (30 if tagged else 17) * max(lines, 1), "layer": layers}


def _bars(store: Store, counts: dict[str, int], districts: int) -> Chart:
    found = fetch(
        store,
        f"""
        WITH standing AS ({_STATIONS}), {_TROUBLE},
        shown AS (
            SELECT t.place <= {MOST_DISTRICTS} AS own, least(t.place, {MOST_DISTRICTS} + 1) AS place,
                   CASE WHEN own THEN s.district END AS district, s.standing,
                   count(*) AS stations, sum(s.high) AS high, sum(s.medium) AS medium, sum(s.low) AS low
            FROM standing s JOIN trouble t ON s.district IS NOT DISTINCT FROM t.district
            GROUP BY ALL
        )
        SELECT place, own, district, standing, stations, high, medium, low FROM shown
        ORDER BY place, list_position({list(STANDINGS)}, standing)
        """,
    )
    rows: list[Row] = []
    largest = max(sum(row[4] for row in members) for _, members in groupby(found, key=lambda row: row[0]))
    place = 0
    for place, members in groupby(found, key=lambda row: row[0]):
        _bar_rows(rows, list(members), int(place), largest, districts)
    return Chart(
        name="fleet",
        title=_TITLE,
        description=f"A bar a district of its stations by worst open finding, the district with most high ones first. "
        f"{_told(counts, districts)}",
        rows=rows,
        draw=lambda dark: _draw_bars(dark, int(place), list(counts)),
        filters={"district": "district", "severity": "severity"},
        note=f"A bar stands for the stations of a district, as {sum(counts.values()):,} marks would not be legible.",
    )


def _bar_rows(rows: list[Row], members: Sequence[tuple[Any, ...]], place: int, largest: int, districts: int) -> None:
    _, own, district, *_ = members[0]
    stations = sum(row[4] for row in members)
    worst = sum(row[4] for row in members if row[3] == "high")
    heading = _heading(district, stations, worst)
    if not own:
        heading = counted(districts - MOST_DISTRICTS, "other district") + heading.removeprefix(NO_DISTRICT)
    wanted = (value(district) or NO_DISTRICT) if own else None
    rows.append({"part": "heading", "line": place, "district": wanted, "text": heading})
    start = 0
    for _, _, _, standing, count, high, medium, low in members:
        share = count / largest
        word = STANDINGS[standing].word
        rows.append(
            {
                "part": "bar",
                "line": place,
                "start": start,
                "end": start + count,
                "middle": start + count / 2,
                "standing": standing,
                "severity": standing if standing in ("high", "medium", "low") else None,
                "district": wanted,
                "in_district": heading.rpartition(": ")[0],
                "stations": count,
                "findings": int(high + medium + low),
                "text": f"{count:,} {word}"
                if share > 0.02 * len(word) + 0.08
                else f"{count:,}"
                if share > 0.07
                else "",
            }
        )
        start += count


def _draw_bars(dark: bool, lines: int, present: list[str]) -> Body:
    shown = [mark for key, mark in STANDINGS.items() if key in present]
    x = {"field": "start", "type": "quantitative", "axis": {"title": "stations", "format": ",d", "tickMinStep": 1}}
    y = {
        "field": "line",
        "type": "ordinal",
        "axis": None,
        "scale": {"type": "band", "domain": list(range(1, lines + 1)), "paddingInner": 0, "paddingOuter": 0},
    }
    ink = {
        "field": "standing",
        "type": "nominal",
        "scale": {"domain": [mark.key for mark in shown], "range": [mark.ink_on(dark) for mark in shown]},
        "legend": None,
    }
    channels = standing_channels("standing", present, dark)
    for channel in channels.values():
        channel["legend"] = channel["legend"] | {"symbolType": "square"}
    del channels["shape"]
    pale = {"not_assessable": "#3a3150" if dark else "#e3dcf0", "waived": paper(dark).rule}
    fills = [pale.get(mark.key, mark.color(dark) if mark.filled else paper(dark).ground) for mark in shown]
    channels["fill"]["scale"] = {"domain": [mark.key for mark in shown], "range": fills}
    tooltip = [
        {"field": "in_district", "title": "district"},
        {"field": "standing", "title": "worst open finding"},
        {"field": "stations", "title": "stations", "format": ",d"},
        {"field": "findings", "title": "their open findings", "format": ",d"},
    ]
    return {
        "height": 36 * max(lines, 1),
        "layer": [
            {
                "transform": part("heading"),
                "mark": {"type": "text", "align": "left", "dy": -9, "fontWeight": "bold", "limit": 340},
                "encoding": {"x": {"datum": 0, "type": "quantitative"}, "y": y, "text": {"field": "text"}},
            },
            {
                "transform": part("bar"),
                "mark": {"type": "bar", "height": 16, "yOffset": 7, "strokeWidth": 1, "cursor": "pointer"},
                "encoding": {"x": x, "x2": {"field": "end"}, "y": y, "tooltip": tooltip, **channels},
            },
            {
                "transform": part("bar"),
                "mark": {"type": "text", "dy": 7, "fontSize": SMALL, "fontWeight": "bold"},
                "encoding": {
                    "x": {"field": "middle", "type": "quantitative"},
                    "y": y,
                    "text": {"field": "text"},
                    "color": ink,
                },
            },
        ],
        "resolve": {"scale": {"color": "independent"}},
    }
