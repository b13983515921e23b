"""Every rule x asset ends as satisfied, exception, not assessable or not applicable."""

import time

import numpy as np
import pandas as pd
import pytest

ELM = {"substation": "ELM"}


def device(tag, rated, kind="resistor"):
    return ELM | {"neutral_device": tag, "kind": kind, "rated_current": rated}


def duty(tag, current):
    return ELM | {"neutral_device": tag, "current_a": current}


@pytest.fixture
def outcome_of(rows):
    return lambda: dict(rows("SELECT asset, outcome FROM audit.result"))


def test_true_false_and_null_are_three_outcomes(put, make_rule, run, outcome_of):
    put("inventory.neutral_device", device("A", 400.0), device("B", 399.0), device("C", None), device("D", 400.0))
    put("study.neutral_duty", duty("A", 400.0), duty("B", 400.0), duty("C", 400.0))
    run(make_rule())
    assert outcome_of() == {"A": "satisfied", "B": "exception", "C": "not_assessable", "D": "not_assessable"}


def test_nan_is_not_on_record_and_does_not_satisfy(store, put, make_rule, run, outcome_of):
    put("inventory.neutral_device", device("A", 400.0))
    put("study.neutral_duty", duty("A", 500.0))
    # In SQL a NaN is above every number: without care this rating would meet any duty.
    store.connection.execute("UPDATE inventory.neutral_device SET rated_current = 'nan'")
    assert store.connection.execute("SELECT rated_current > 1e300 FROM inventory.neutral_device").fetchone() == (True,)
    run(make_rule())
    assert outcome_of() == {"A": "not_assessable"}


def test_nan_made_by_the_query_is_not_on_record(put, make_rule, run, outcome_of):
    put("inventory.neutral_device", device("A", 0.0))
    put("study.neutral_duty", duty("A", 0.0))
    run(
        make_rule(
            query=make_rule().query.replace("d.rated_current AS actual", "d.rated_current / u.current_a AS actual")
        )
    )
    assert outcome_of() == {"A": "not_assessable"}


@pytest.mark.parametrize(
    ("kinds", "outcome"),
    [
        (["cable", "cable"], "satisfied"),
        (["cable", "bushing", None], "exception"),
        (["cable", None], "not_assessable"),
    ],
)
def test_a_group_is_judged_by_what_is_known_of_its_members(put, make_rule, run, outcome_of, kinds, outcome):
    put("inventory.insulation", *[ELM | {"insulation": f"I{n}", "bus": "B1", "kind": k} for n, k in enumerate(kinds)])
    run(
        make_rule(
            asks="bus",
            inputs=("insulation.kind",),
            query="""
                SELECT substation, 'bus' AS asset_kind, bus AS asset, 1 AS actual, 1 AS required, '' AS unit,
                       CASE WHEN bool_or(kind <> 'cable') THEN FALSE
                            WHEN count(kind) = count(*) THEN TRUE END AS ok
                FROM inventory.insulation GROUP BY ALL
            """,
        )
    )
    assert outcome_of() == {"B1": outcome}


def test_counts_of_each_station_add_up_to_the_assets_of_the_kind(put, make_rule, run, rows):
    put("inventory.substation", ELM, {"substation": "OAK"})
    put(
        "inventory.neutral_device",
        device("A", 400.0), device("B", 1.0), device("C", None), device("L", None, "solid"), device("M", None, "solid"),
    )  # fmt: skip
    put("study.neutral_duty", duty("A", 400.0), duty("B", 400.0))
    run(make_rule())
    counts = "SELECT substation, satisfied, exceptions, not_assessable, not_applicable FROM audit.outcome ORDER BY 1"
    assert rows(counts) == [("ELM", 1, 1, 1, 2), ("OAK", 0, 0, 0, 0)]


def test_two_items_of_one_asset_count_as_one_asset(put, make_rule, run, rows):
    put("inventory.transformer", ELM | {"transformer": "T1"}, ELM | {"transformer": "T2"})
    run(
        make_rule(
            asks="transformer",
            inputs=("transformer.vector_group",),
            query="""
                SELECT substation, 'transformer' AS asset_kind, transformer AS asset, w AS item, 0 AS actual,
                       1 AS required, '' AS unit, w = 'hv' AS ok
                FROM inventory.transformer, unnest(['hv', 'lv']) AS windings(w) WHERE transformer = 'T1'
            """,
        )
    )
    assert rows("SELECT satisfied, exceptions, not_applicable FROM audit.outcome") == [(1, 1, 1)]
    assert rows("SELECT count(DISTINCT finding), count(*) FROM audit.finding") == [(1, 1)]


def test_a_rule_about_zones_counts_zones(put, make_rule, run, rows):
    put("inventory.substation", ELM)
    put("study.zone", *[ELM | {"zone": f"ELM:B{n}", "bus": f"B{n}", "ground_sources": n} for n in range(3)])
    run(
        make_rule(
            asks="zone",
            inputs=("zone.ground_sources",),
            query="""
                SELECT substation, 'zone' AS asset_kind, zone AS asset, ground_sources AS actual, 1 AS required,
                       '' AS unit, ground_sources > 1 AS ok
                FROM study.zone WHERE ground_sources > 0
            """,
        )
    )
    assert rows("SELECT satisfied, exceptions, not_assessable, not_applicable FROM audit.outcome") == [(1, 1, 0, 1)]


def test_a_second_run_gives_the_same_rows(put, make_rule, run, rows):
    put("inventory.neutral_device", device("A", 399.0), device("B", None))
    put("study.neutral_duty", duty("A", 400.0), duty("B", 400.0))
    tables = ("rule", "result", "missing_field", "outcome", "finding", "evidence")
    run(make_rule())
    first = [rows(f"SELECT * FROM audit.{table} ORDER BY ALL") for table in tables]
    run(make_rule())
    assert [rows(f"SELECT * FROM audit.{table} ORDER BY ALL") for table in tables] == first
    assert all(first[:3])


def test_two_hundred_thousand_assets_take_seconds(store, make_rule, run, rows):
    count = 200_000
    stations = [f"S{n // 20:05d}" for n in range(count)]
    tags = [f"NR{n % 20}" for n in range(count)]
    rated = np.where(np.arange(count) % 3 == 0, np.nan, 400.0)
    frame = pd.DataFrame({"substation": stations, "neutral_device": tags})
    store.write("inventory", "substation", frame[["substation"]].drop_duplicates())
    store.write("inventory", "neutral_device", frame.assign(kind="resistor", rated_current=rated, raw_row=1, part=1))
    store.write("study", "neutral_duty", frame.assign(current_a=np.where(np.arange(count) % 20 == 1, 500.0, 300.0)))
    started = time.perf_counter()
    run(make_rule())
    elapsed = time.perf_counter() - started
    exceptions = sum(n % 3 != 0 and n % 20 == 1 for n in range(count))
    assert rows("SELECT sum(exceptions), sum(not_assessable), count(*) FROM audit.outcome") == [
        (exceptions, len(range(0, count, 3)), count // 20)
    ]
    assert rows("SELECT count(*) FROM audit.missing_field") == [(len(range(0, count, 3)),)]
    assert elapsed < 20  # a loop over assets takes minutes
