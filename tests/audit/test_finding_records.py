"""What a finding says, and that it stays the same finding from one audit to the next."""

import math

import pytest

from groundcheck.audit.findings import finding_id, robustness

ELM = {"substation": "ELM"}


@pytest.fixture
def overloaded(put):
    put("inventory.substation", ELM | {"district": "North"})
    put("inventory.neutral_device", ELM | {"neutral_device": "NR1", "kind": "resistor", "rated_current": 400.0})
    put("study.neutral_duty", ELM | {"neutral_device": "NR1", "current_a": 640.3817, "provisional": True})


def test_a_finding_carries_its_rule_its_numbers_and_its_district(overloaded, make_rule, run, rows):
    run(make_rule(caution="Prove dead first."))
    columns = (
        "rule, severity, message, actual, required, unit, provisional, robustness, status, remedy, working, caution, "
        "basis, district"
    )
    assert rows(f"SELECT {columns} FROM audit.finding") == [
        (
            "own/rule", "high", "NR1 is rated 400 A; its duty is 640 A", "400", "640.4", "A", True, "firm", "open",
            "a resistor of 640 A or more", "400 A against 640 A", "Prove dead first.", "common practice, no source",
            "North",
        )
    ]  # fmt: skip
    assert rows("SELECT outcome, message FROM audit.result") == [("exception", "NR1 is rated 400 A; its duty is 640 A")]


def test_a_finding_on_recorded_values_is_not_provisional(store, overloaded, make_rule, run, rows):
    store.connection.execute("UPDATE study.neutral_duty SET provisional = FALSE")
    run(make_rule())
    assert rows("SELECT provisional FROM audit.finding") == [(False,)]


def test_a_query_may_say_that_an_answer_is_provisional(store, overloaded, make_rule, run, rows):
    store.connection.execute("UPDATE study.neutral_duty SET provisional = FALSE")
    run(make_rule(query=make_rule().query.replace("'A' AS unit,", "'A' AS unit, TRUE AS provisional,")))
    assert rows("SELECT provisional FROM audit.finding") == [(True,)]


def test_a_finding_keeps_its_identity_when_numbers_and_neighbours_change(store, put, overloaded, make_rule, run, rows):
    run(make_rule())
    first = rows("SELECT finding FROM audit.finding WHERE asset = 'NR1'")
    put("inventory.neutral_device", ELM | {"neutral_device": "A0", "kind": "resistor", "rated_current": 1.0})
    put("study.neutral_duty", ELM | {"neutral_device": "A0", "current_a": 5.0})
    store.connection.execute("UPDATE inventory.neutral_device SET rated_current = rated_current / 2")
    run(make_rule())
    assert rows("SELECT finding FROM audit.finding WHERE asset = 'NR1'") == first
    assert rows("SELECT count(DISTINCT finding) FROM audit.finding") == [(2,)]


def test_identity_is_the_hash_of_rule_and_asset():
    # printf 'own/rule|ELM|neutral_device|NR1|' | sha256sum, first ten digits
    assert finding_id("own/rule", "ELM", "neutral_device", "NR1", None) == "F8476032bc0"


@pytest.mark.parametrize("changed", range(5))
def test_identity_depends_on_each_of_its_parts(changed):
    parts = ["own/rule", "ELM", "transformer", "T1", "hv"]
    other = [part + "x" if n == changed else part for n, part in enumerate(parts)]
    assert finding_id(*parts) != finding_id(*other)


@pytest.mark.parametrize(
    ("answer", "expected"),
    [
        ({"actual": 95.0, "required": 100.0}, "firm"),
        ({"actual": 95.0, "required": 100.0, "required_low": 94.0, "required_high": 106.0}, "marginal"),
        ({"actual": 95.0, "required": 100.0, "required_low": 95.0, "required_high": 106.0}, "marginal"),
        ({"actual": 95.0, "required": 100.0, "required_low": 95.1, "required_high": 106.0}, "firm"),
        ({"actual": 95.0, "actual_high": 96.0, "required": 100.0, "required_low": 95.5}, "marginal"),
        ({"actual": 120.0, "required": 100.0, "required_high": math.inf}, "marginal"),
        ({"actual": 120.0, "required": 100.0, "required_low": None, "required_high": None}, "firm"),
        ({"actual": 100.0, "required": 100.0}, "firm"),
        ({"actual": None, "required": 100.0, "required_low": 0.0}, "firm"),
        ({"actual": "open", "required": "closed"}, "firm"),
        ({"actual": True, "required": True}, "firm"),
    ],
)
def test_marginal_is_where_the_intervals_meet(answer, expected):
    assert robustness(answer) == expected
