"""The examples of a rule are held to what their labels say."""

import dataclasses

import pytest

from groundcheck.audit.examples import OUTCOMES, check_examples, run_example

DEVICE = {"substation": "ELM", "neutral_device": "NR1", "kind": "resistor", "rated_current": 400}
DUTY = {"substation": "ELM", "neutral_device": "NR1", "current_a": 400}
NO_TABLE = "an example has the table `resistor`, which neither inventory nor study has"
NO_ENTRY = "an example sets the policy entry `margin`, which the rule does not list"
SOUND = {
    "exception: 640 A": {"neutral_device": [DEVICE], "neutral_duty": [DUTY | {"current_a": 640}]},
    "satisfied: exactly": {"neutral_device": [DEVICE], "neutral_duty": [DUTY]},
    "not assessable: no duty": {"neutral_device": [DEVICE]},
    "not applicable: solid": {"neutral_device": [DEVICE | {"kind": "solid"}]},
}


@pytest.fixture
def rule(make_rule):
    return make_rule(examples=SOUND)


def test_examples_that_give_their_outcomes_have_no_problems(rule):
    assert check_examples(rule) == []


def test_a_missing_outcome_is_said(rule):
    examples = {label: tables for label, tables in SOUND.items() if not label.startswith("satisfied")}
    assert check_examples(dataclasses.replace(rule, examples=examples)) == ["no example is labelled 'satisfied: ...'"]


@pytest.mark.parametrize(
    ("label", "tables", "problem"),
    [
        ("sound: yes", {}, "the label must start with one of " + ", ".join(OUTCOMES) + ", then a colon"),
        ("exception: none", {"neutral_device": [DEVICE]}, "NR1 is not assessable; exception was expected"),
        ("exception: none", {}, "nothing is asked; exception was expected"),
        ("not applicable: no", {"neutral_device": [DEVICE]}, "NR1 is not assessable; no row was expected"),
        ("exception: x", {"resistor": []}, NO_TABLE),
        ("exception: x", {"policy": {"margin": 2}}, NO_ENTRY),
    ],
)  # fmt: skip
def test_an_example_at_odds_with_its_label_is_said(rule, label, tables, problem):
    problems = check_examples(dataclasses.replace(rule, examples=SOUND | {label: tables}))
    assert problems == [f"example '{label}': {problem}"]


def test_examples_leave_nothing_behind_for_the_next(rule):
    run_example(rule, SOUND["satisfied: exactly"])
    assert run_example(rule, {}) == []
    assert check_examples(
        dataclasses.replace(rule, examples={"exception: x": {"neutral_device": [DEVICE, {"colour": 1}]}})
    )
    assert run_example(rule, {}) == []


def test_an_example_sets_the_rules_policy_by_short_name(make_rule):
    query = make_rule().query.replace("u.current_a AS required", "u.current_a * $margin AS required")
    rule = make_rule(query=query, policy={"margin": "neutral_device.current_margin"})
    tables = SOUND["satisfied: exactly"]
    assert [answer.outcome for answer in run_example(rule, tables)] == ["satisfied"]
    assert [answer.outcome for answer in run_example(rule, tables | {"policy": {"margin": 1.01}})] == ["exception"]
