"""The charts of a fleet show the numbers that the store holds, and only as many marks as can be read."""

from collections.abc import Callable
from typing import Any

import pytest

from groundcheck.report.charts import (
    CHARTS,
    blocking_fields_chart,
    fleet_chart,
    fleet_charts,
    margins_chart,
    trend_chart,
)
from groundcheck.report.charts.fleet import MOST_MARKS
from groundcheck.report.rows import fetch
from groundcheck.store import Store

PLACES = {"district", "substation", "asset_kind"}
KEYS = PLACES | {"severity", "rule", "subject", "status", "outcome", "field", "run"}


def rows(chart: Any, part: str) -> list[dict[str, Any]]:
    assert chart
    return [row for row in chart.rows if row["part"] == part]


def test_every_station_has_one_mark_by_its_worst_open_finding(sample_store: Store) -> None:
    marks = rows(fleet_chart(sample_store), "station")
    stations = fetch(sample_store, "SELECT DISTINCT substation FROM inventory.substation")
    assert sorted(mark["substation"] for mark in marks) == sorted(row[0] for row in stations)
    for severity in ("high", "medium", "low"):
        asked = "SELECT substation FROM audit.finding WHERE status <> 'waived' AND severity = ? ORDER BY ALL"
        found = [row[0] for row in fetch(sample_store, asked, [severity])]
        assert sum(mark[severity] for mark in marks) == len(found)
        if severity == "high":
            assert {mark["substation"] for mark in marks if mark["standing"] == "high"} == set(found)


def test_districts_with_most_trouble_come_first(sample_store: Store) -> None:
    marks = rows(fleet_chart(sample_store), "station")
    high = [mark["district"] for mark in marks if mark["standing"] == "high"]
    counts = [high.count(row["district"]) for row in rows(fleet_chart(sample_store), "heading")]
    assert counts == sorted(counts, reverse=True)


def test_the_description_tells_the_counts(filled_store: Store) -> None:
    chart = fleet_chart(filled_store)
    assert chart
    assert chart.description == (
        "One mark a station, grouped by district, the worst first. 2 stations in 2 districts: "
        "1 whose worst open finding is high and 1 whose worst is low."
    )


def test_a_station_with_waived_findings_only_is_shown_as_such(filled_store: Store) -> None:
    filled_store.connection.execute("UPDATE audit.finding SET status = 'waived' WHERE substation = 'ASH'")
    marks = {mark["substation"]: mark for mark in rows(fleet_chart(filled_store), "station")}
    assert marks["ASH"]["standing"] == "waived"
    assert (marks["ASH"]["high"], marks["ASH"]["waived"]) == (0, 2)


def test_a_large_fleet_is_drawn_as_bars_whose_parts_add_up(filled_store: Store) -> None:
    filled_store.connection.execute(
        "INSERT INTO inventory.substation (substation, district) "
        f"SELECT 'S' || i, 'District ' || i % 7 FROM range({MOST_MARKS}) r(i)"
    )
    bars = rows(fleet_chart(filled_store), "bar")
    assert sum(bar["stations"] for bar in bars) == MOST_MARKS + 2
    assert len(bars) == 9
    assert all(bar["end"] - bar["start"] == bar["stations"] for bar in bars)


def test_margins_are_the_quotients_of_what_the_findings_hold(sample_store: Store) -> None:
    marks = rows(margins_chart(sample_store), "mark")
    found = fetch(
        sample_store,
        "SELECT rule, substation, 100 * actual_value / required_value FROM audit.finding "
        "WHERE isfinite(actual_value) AND isfinite(required_value) AND required_value <> 0 "
        "AND 100 * actual_value / required_value BETWEEN 1 AND 10000",
    )
    drawn = {(mark["rule"], mark["substation"], f"{mark['at']:.3g}") for mark in marks}
    assert {(rule, station, f"{per_cent:.3g}") for rule, station, per_cent in found} <= drawn
    numbers = "SELECT count(*) FROM audit.finding WHERE actual_value IS NOT NULL AND required_value IS NOT NULL"
    assert len(marks) == fetch(sample_store, numbers)[0][0]


@pytest.mark.parametrize(
    ("actual", "required", "told"),
    [
        (400.0, 640.0, "62.5 %"),
        (0.0, 1.0, "0 %"),
        (0.001, 1.0, "below 1 %"),
        (5e4, 1.0, "above 10,000 %"),
        (60.0, float("inf"), "no limit required"),
        (float("inf"), 60.0, "without limit"),
        (3.0, 0.0, "no percentage"),
        (-3.0, 2.0, "no percentage"),
        (-22.0, -10.0, "220 %"),
    ],
)
def test_what_has_no_place_on_the_scale_stands_at_its_edge_in_words(
    empty_store: Store, fill: Callable[..., None], finding: dict[str, Any], actual: float, required: float, told: str
) -> None:
    values = {"actual_value": actual, "required_value": required}
    fill(empty_store, "audit.finding", finding | values, finding | {"finding": "f-2", **values, "status": "waived"})
    chart = margins_chart(empty_store)
    assert [mark["told"] for mark in rows(chart, "mark")] == [f"{told}, waived", told]
    if not told[0].isdigit() or told == "0 %":
        assert [row["text"] for row in rows(chart, "left") + rows(chart, "right")] == [told]


def test_many_findings_are_counted_in_bins(
    empty_store: Store, fill: Callable[..., None], finding: dict[str, Any]
) -> None:
    fill(empty_store, "audit.finding", finding | {"actual_value": 1.0, "required_value": 2.0})
    empty_store.connection.execute(
        "INSERT INTO audit.finding BY NAME SELECT f.* REPLACE ('g' || i AS finding, 1 + i / 100 AS actual_value) "
        "FROM audit.finding f, range(5000) r(i)"
    )
    marks = rows(margins_chart(empty_store), "mark")
    assert sum(mark["findings"] for mark in marks) == 5001
    assert len(marks) < 30


def test_no_numbers_no_margins(filled_store: Store) -> None:
    assert margins_chart(filled_store) is None


def test_bars_of_blocking_fields_count_checks_and_records(sample_store: Store) -> None:
    for bar in rows(blocking_fields_chart(sample_store), "field"):
        kind, field = bar["field"].split(".")
        asked = (
            "SELECT count(*) FROM (SELECT DISTINCT {} FROM audit.missing_field "
            "WHERE blocking_asset_kind = ? AND field = ?)"
        )
        checks = fetch(sample_store, asked.format("rule, substation, asset_kind, asset, item"), [kind, field])
        records = fetch(sample_store, asked.format("blocking_substation, blocking_asset"), [kind, field])
        assert (bar["checks"], bar["records"]) == (checks[0][0], records[0][0])


def test_a_trend_needs_two_audits_and_counts_each(
    filled_store: Store, fill: Callable[..., None], finding: dict[str, Any]
) -> None:
    filled_store.clear("audit", "run", "past_finding")
    past = {name: finding[name] for name in ("finding", "rule", "severity", "substation", "status")}
    fill(filled_store, "audit.run", {"run": 1, "made_at": "2025-01-02T03:04:05"})
    fill(filled_store, "audit.past_finding", past | {"run": 1}, past | {"run": 1, "finding": "b", "severity": "low"})
    assert trend_chart(filled_store) is None
    fill(filled_store, "audit.run", {"run": 2, "made_at": "2025-02-02T03:04:05"})
    fill(filled_store, "audit.past_finding", past | {"run": 2, "status": "waived"})
    counts = {(row["run"], row["standing"]): row["findings"] for row in rows(trend_chart(filled_store), "audit")}
    assert {place for place, findings in counts.items() if findings} == {(1, "high"), (1, "low"), (2, "waived")}
    assert {row["audit"] for row in rows(trend_chart(filled_store), "audit")} == {
        "2025-01-02|audit 1",
        "2025-02-02|audit 2",
    }


def test_an_empty_store_has_no_charts(empty_store: Store) -> None:
    assert fleet_charts(empty_store) == dict.fromkeys(CHARTS)


def test_clicks_filter_by_known_keys_and_by_fields_that_marks_have(sample_store: Store) -> None:
    for chart in fleet_charts(sample_store).values():
        if chart:
            assert set(chart.filters.values()) <= KEYS
            assert all(any(field in row for row in chart.rows) for field in chart.filters)
            assert chart.spec()["usermeta"] == {"filter": dict(chart.filters)}
