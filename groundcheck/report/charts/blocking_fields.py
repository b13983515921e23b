"""The fields that are not on record and that most checks wait for."""

from groundcheck.report.charts.chart import Body, Chart, Row, part
from groundcheck.report.charts.labels import label, value
from groundcheck.report.field_names import field_in_words, kind_in_words
from groundcheck.report.marks import NOT_ASSESSABLE, paper
from groundcheck.report.overview import blocking_fields, counted
from groundcheck.report.rows import fetch
from groundcheck.store import Store

MOST_BARS = 24


def blocking_fields_chart(store: Store) -> Chart | None:
    """A bar a field; None if nothing waits for a field."""
    found = blocking_fields(store)
    if not found:
        return None
    waiting = fetch(
        store,
        "SELECT count(*) FROM (SELECT DISTINCT rule, substation, asset_kind, asset, item FROM audit.missing_field)",
    )[0][0]
    rows: list[Row] = []
    for place, (kind, field, checks, records, stations) in enumerate(found[:MOST_BARS]):
        words = f"{kind_in_words(label(kind, 40))}: {field_in_words(kind, label(field, 60))}"
        rows.append(
            {
                "part": "field",
                "line": place,
                "field": value(f"{kind}.{field}"),
                "text": label(words, 100),
                "checks": checks,
                "records": records,
                "stations": stations,
                "label": f"{label(words, 90)}: {counted(checks, 'check')}, {counted(records, 'record')}",
                "told": f"{counted(checks, 'check')}, {counted(records, 'record')}",
            }
        )
    first = rows[0]
    rest = len(found) - len(rows)
    most = max(max(row["checks"], row["records"]) for row in rows)
    return Chart(
        name="blocking-fields",
        title="Fields not on record that block most checks",
        description=f"{counted(waiting, 'check')} {'waits' if waiting == 1 else 'wait'} for "
        f"{counted(len(found), 'field')}. First: {first['text']}, {counted(first['checks'], 'check')} blocked, "
        f"{counted(first['records'], 'record')} to fill in at {counted(first['stations'], 'station')}."
        + "".join(f" Then {row['text']}: {row['told']}." for row in rows[1:5]),
        rows=rows,
        draw=lambda dark: _draw(dark, len(rows), most),
        filters={"field": "field"},
        note="Wide bar: checks blocked; narrow bar: records to fill in. A check may wait for several fields."
        + (
            f" {counted(rest, 'field')} more, each blocking fewer, {'is' if rest == 1 else 'are'} not drawn."
            if rest
            else ""
        ),
    )


def _draw(dark: bool, lines: int, most: int) -> Body:
    x = {"type": "quantitative", "scale": {"domain": [0, most * 1.02], "nice": False}}
    step = max(1, 5 * round(most / 25)) if most > 10 else 1
    axis: Body = {"title": "checks blocked, records to fill in", "format": ",d", "orient": "top"}
    axis |= {"values": list(range(0, most + 1, step)), "labelOverlap": "greedy"}
    y = {
        "field": "line",
        "type": "ordinal",
        "axis": None,
        "scale": {"type": "band", "domain": list(range(lines)), "paddingInner": 0, "paddingOuter": 0},
    }
    tooltip = [
        {"field": "text", "title": "field"},
        {"field": "checks", "title": "checks blocked", "format": ",d"},
        {"field": "records", "title": "records to fill in", "format": ",d"},
        {"field": "stations", "format": ",d"},
    ]

    def bar(name: str, height: int, color: str, opacity: float) -> Body:
        return {
            "transform": part("field"),
            "mark": {"type": "bar", "height": height, "yOffset": 8, "color": color, "opacity": opacity}
            | {"cursor": "pointer"},
            "encoding": {"x": {"field": name, **x, "axis": axis}, "y": y, "tooltip": tooltip},
        }

    def text(field: str, align: str, color: str) -> Body:
        return {
            "transform": part("field"),
            "mark": {"type": "text", "align": align, "dy": -8, "color": color, "limit": 700},
            "encoding": {"x": {"datum": 0, **x, "axis": axis}, "y": y, "text": {"field": field}},
        }

    return {
        "height": 34 * max(lines, 1),
        "layer": [
            bar("checks", 13, NOT_ASSESSABLE.color(dark), 0.55),
            bar("records", 5, paper(dark).ink, 1.0),
            text("label", "left", paper(dark).ink),
        ],
    }
