"""The rulebook in words."""

from pathlib import Path

import pytest

from groundcheck.audit import LoadedRule, Refusal, Rulebook, describe_rule, find_rule, list_rules
from groundcheck.errors import NoSuchRule


@pytest.fixture
def book(make_rule):
    def loaded(name, **fields):
        return LoadedRule(name, "own", f"{name}.py", Path(f"{name}.py"), make_rule(**fields))

    rules = {
        "devices/spare": loaded("devices/spare", severity="low", title="No spare"),
        "devices/time": loaded("devices/time", title="Too short", examples={"exception: 1 s": {}}),
    }
    return Rulebook(rules, [Refusal("devices/bad", "own", "devices/bad.py", 3, "it has no RULE")])


def test_rules_are_listed_by_severity_and_refusals_are_said(book):
    assert list_rules(book).splitlines() == [
        "high    devices/time   Too short",
        "low     devices/spare  No spare",
        "2 rules run, 1 refused",
        "refused: devices/bad.py, line 3: it has no RULE",
    ]


def test_a_description_has_every_part_of_the_rule(book):
    text = describe_rule(book.rules["devices/time"])
    rule = book.rules["devices/time"].rule
    for part in (rule.title, rule.why, rule.basis, rule.message, rule.working, rule.remedy, "exception: 1 s"):
        assert part in text
    assert "LEFT JOIN study.neutral_duty u USING (substation, neutral_device)" in text


def test_a_name_that_no_rulebook_has_is_answered_with_the_nearest(book):
    with pytest.raises(NoSuchRule) as error:
        find_rule(book, "devices/tme")
    assert str(error.value) == "no rule `devices/tme`; nearest is `devices/time`"
