"""What a policy says of single rules: whether they are asked, how severe, and where."""

import tomllib

import pandas as pd
import pytest

import groundcheck
from groundcheck.errors import PolicyError
from groundcheck.policy import load_policy, override_policy, policy_text
from groundcheck.rule_choices import Ruling, check_names, places_not_on_record, read_choices, ruling

BUSES = {
    "substation": [
        {"substation": "ELM", "district": "North"},
        {"substation": "OAK", "district": "North"},
        {"substation": "FIR", "district": "South"},
    ],
    "bus": [
        {"substation": name, "bus": "B1", "nominal_voltage": 33.0, "highest_voltage": 30.0}
        for name in ("ELM", "OAK", "FIR")
    ],
}
RULE = "record/highest-below-nominal"


def choices(*entries):
    return read_choices(list(entries), "policy.toml")


@pytest.mark.parametrize(
    ("entries", "expected"),
    [
        ([], Ruling(True, None)),
        ([{"name": RULE, "asked": False}], Ruling(False, None)),
        ([{"name": RULE, "asked": False, "districts": ["South"]}], Ruling(True, None)),
        ([{"name": RULE, "asked": False, "districts": ["North"]}], Ruling(False, None)),
        # What is said of the station outranks its district, that the fleet, in whatever order they stand.
        ([{"name": RULE, "asked": True, "stations": ["ELM"]}, {"name": RULE, "asked": False, "districts": ["North"]},
          {"name": RULE, "asked": True}], Ruling(True, None)),
        ([{"name": RULE, "severity": "high", "districts": ["North"]}, {"name": RULE, "severity": "medium"}],
         Ruling(True, "high")),
        ([{"name": RULE, "severity": "high"}, {"name": RULE, "severity": "medium"}], Ruling(True, "medium")),
    ],
)  # fmt: skip
def test_what_is_said_of_the_nearest_place_holds(entries, expected):
    assert ruling(choices(*entries), "ELM", "North") == expected


@pytest.mark.parametrize(
    ("entry", "message"),
    [
        ({"name": RULE, "askd": False}, "p: [[rule]] 1 has no key `askd`; nearest is `asked`"),
        ({"asked": False}, "p: [[rule]] 1 has no `name`; expected a rule's name, or a subject such as 'mat/*'"),
        ({"name": RULE, "asked": "no"}, "p: [[rule]] 1: `asked` is 'no'; expected true or false"),
        ({"name": RULE, "severity": "grave"}, "p: [[rule]] 1: `severity` is 'grave'; expected high or medium or low"),
        ({"name": RULE, "asked": True, "stations": "ELM"},
         "p: [[rule]] 1: `stations` is 'ELM'; expected a list of names"),
        ({"name": RULE}, f"p: [[rule]] 1 says nothing of {RULE}; expected `asked`, `severity` or `limits`"),
        ({"name": RULE, "limits": 3},
         "p: [[rule]] 1: `limits` is 3; expected entries of the policy, as in { \"arrester.margin\" = 1.0 }"),
        ({"name": RULE, "asked": True, "why": 3}, "p: [[rule]] 1: `why` is 3; expected a text"),
    ],
)  # fmt: skip
def test_what_an_entry_gets_wrong_is_said(entry, message):
    with pytest.raises(PolicyError) as refusal:
        read_choices([entry], "p")
    assert str(refusal.value) == message


def test_rule_that_is_no_list_of_entries_is_said():
    with pytest.raises(PolicyError) as refusal:
        override_policy(load_policy(), {"rule": {"name": "mat/*"}}, where="p")
    assert str(refusal.value) == "p: `rule` is {'name': 'mat/*'}; expected entries that start with [[rule]]"


def test_a_rule_that_no_rulebook_has_is_said_with_the_nearest():
    with pytest.raises(PolicyError) as refusal:
        check_names(choices({"name": "record/highest-below-nominl", "asked": False}), {RULE: [], "mat/x": []})
    assert str(refusal.value) == (
        f"policy: [[rule]] 1 names `record/highest-below-nominl`, and there is no such rule; nearest is `{RULE}`"
    )


def test_a_limit_that_the_rule_does_not_read_is_said_with_the_nearest():
    with pytest.raises(PolicyError) as refusal:
        check_names(
            choices({"name": "mat/*", "limits": {"ground_grid.area_margn": 1.2}}),
            {"mat/x": ["ground_grid.area_margin"]},
        )
    assert str(refusal.value) == (
        "policy: [[rule]] 1: mat/* reads no limit `ground_grid.area_margn`; nearest is `ground_grid.area_margin`"
    )


def test_a_limit_of_another_kind_is_said():
    own = {"rule": [{"name": "mat/*", "limits": {"ground_grid.area_margin": "more"}}]}
    with pytest.raises(PolicyError) as refusal:
        override_policy(load_policy(), own, where="p")
    assert str(refusal.value) == "p: [[rule]] 1: `ground_grid.area_margin` is 'more'; expected a float such as 1.0"


def test_a_subject_stands_for_all_of_its_rules():
    check_names(choices({"name": "record/*", "asked": False}), {RULE: []})


def test_a_place_that_is_not_on_record_is_told_with_the_nearest():
    said = places_not_on_record(
        choices({"name": RULE, "asked": False, "districts": ["Nort"], "stations": ["ELM"]}), {"ELM": "North"}
    )
    assert said == ["policy: [[rule]] 1 names district Nort, which is not on record; nearest is North"]


def test_entries_read_back_as_themselves():
    limits = {"ground_grid.area_margin": 1.2}
    places = {"districts": ['the "old" north'], "why": "surveyed\nelsewhere"}
    own = {"rule": [{"name": "mat/*", "asked": False, "limits": limits} | places]}
    policy = override_policy(load_policy(), own)
    assert override_policy(load_policy(), tomllib.loads(policy_text(policy))).choices == policy.choices


def test_an_audit_asks_as_its_policy_says_and_keeps_what_it_said():
    own = {
        "rule": [
            {"name": RULE, "asked": False, "districts": ["North"], "why": "under repair"},
            {"name": "record/*", "asked": True, "stations": ["OAK"]},
            {"name": RULE, "severity": "high", "districts": ["South"]},
        ]
    }
    made = groundcheck.audit(
        {name: pd.DataFrame(rows) for name, rows in BUSES.items()}, policy=override_policy(load_policy(), own)
    )
    found = made.findings().query("rule == @RULE")
    assert sorted(zip(found.substation, found.severity, strict=True)) == [("FIR", "high"), ("OAK", "medium")]
    said = made.sql(f"SELECT choices FROM audit.rule WHERE rule = '{RULE}'").df().choices[0]
    assert said == ("not asked of district North: under repair; asked of station OAK; severity high for district South")


def test_a_district_is_judged_by_its_own_limit(tmp_path):
    rule = tmp_path / "own" / "voltage.py"
    rule.parent.mkdir()
    rule.write_text(LIMITED)
    own = {
        "rule": [
            {"name": "own/*", "limits": {"arrester.margin": 40}, "districts": ["North"]},
            {"name": "own/*", "limits": {"arrester.margin": 50}, "stations": ["OAK"]},
        ]
    }
    tables = {name: pd.DataFrame(rows) for name, rows in BUSES.items()}
    made = groundcheck.audit(tables, rules=[tmp_path], policy=override_policy(load_policy(), own))
    found = made.findings().query("rule == 'own/voltage'")
    assert dict(zip(found.substation, found.message, strict=True)) == {"ELM": "33 kV < 40 kV", "OAK": "33 kV < 50 kV"}
    asked = made.outcomes().query("rule == 'own/voltage'")
    assert dict(zip(asked.substation, asked.satisfied, strict=True)) == {"ELM": 0, "FIR": 1, "OAK": 0}


LIMITED = """
from groundcheck.audit import Rule

BUS = {"substation": "ELM", "bus": "B1", "nominal_voltage": 0.5}
RULE = Rule(
    title="Nominal voltage below the limit", severity="low", why="For the test.", basis="common practice, no source",
    asks="bus", inputs=("bus.nominal_voltage",), policy={"limit": "arrester.margin"},
    query='''
        SELECT substation, 'bus' AS asset_kind, bus AS asset, nominal_voltage AS actual, 1 * $limit AS required,
               'kV' AS unit, nominal_voltage >= $limit AS ok
        FROM inventory.bus
    ''',
    message="{actual} kV < {limit:g} kV", working="{actual} kV", remedy="none", caution="",
    examples={"exception: low": {"bus": [BUS]}},
)
"""
