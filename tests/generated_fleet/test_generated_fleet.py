"""
Every injected defect is found by its rule, and nothing is found where nothing is wrong.

Sound stations of many kinds are drawn from a seed, their plant sized by formulas of the handbooks; most are then given
one defect each, as a careless record or careless plant would have it. More of them, drawn anew for each number:
GROUNDCHECK_INJECTIONS=n.
"""

from collections import Counter, defaultdict

import numpy as np
import pytest
from generated_fleet.campaign import SEED, USUAL, WANTED, build, drawn_as
from generated_fleet.defects import DEFECTS
from generated_fleet.stations import KINDS, sound_station

import groundcheck
from groundcheck.audit import load_rulebooks

FEWEST_OF_A_RULE = 20
MOST_MISSES_SHOWN = 20
# Rules that have nothing to ask where nothing is wrong.
SILENT_WHERE_SOUND: dict[str, str] = {
    "insulation/graded-neutral": "asks only where a graded neutral's withstand is not on record",
    "secondaries/double-ground-current": "asks only about circuits that are grounded twice",
}


@pytest.fixture(scope="module")
def rulebook():
    book = load_rulebooks(try_queries=False)
    assert book.refused == []
    return set(book.rules)


@pytest.fixture(scope="module")
def campaign(rulebook):
    return build(WANTED, SEED, rulebook)


@pytest.fixture(scope="module")
def audit(campaign):
    return groundcheck.audit(campaign.frames())


@pytest.fixture(scope="module")
def found(audit):
    """Rules with a finding, by station."""
    rules = defaultdict(set)
    for station, rule in audit.sql("SELECT DISTINCT substation, rule FROM audit.finding").fetchall():
        rules[drawn_as(station)].add(rule)
    return rules


def told(cases):
    """The first of the cases, a line each, with the seed that gives them again."""
    lines = sorted(cases)
    return "\n".join([f"seed {SEED}, {len(lines)} cases:", *lines[:MOST_MISSES_SHOWN]])


def test_the_fleet_has_stations_of_ten_kinds_and_more(campaign):
    assert len(KINDS) >= 10
    assert set(campaign.kinds.values()) == set(KINDS)


def test_the_same_seed_gives_the_same_station():
    first, second = (sound_station("generators", "ELM", np.random.default_rng(7)) for _ in range(2))
    assert first == second


def test_every_rule_has_a_defect(rulebook):
    assert rulebook - {defect.rule for defect in DEFECTS} == set()
    assert {defect.rule for defect in DEFECTS} - rulebook == set()


def test_every_rule_has_many_defects_to_find(campaign, rulebook):
    assert len(campaign.defects) >= WANTED
    applied = campaign.applied()
    assert {rule: applied[rule] for rule in rulebook if applied[rule] < FEWEST_OF_A_RULE * WANTED // USUAL} == {}


def test_every_record_of_the_fleet_is_read(audit):
    assert audit.sql("SELECT * FROM raw.unread_cell").fetchall() == []
    assert audit.sql("SELECT problem FROM audit.rule WHERE problem IS NOT NULL").fetchall() == []


def test_every_defect_is_found_by_its_rule(campaign, found):
    missed = [
        f"{defect.rule} ({defect.name}) at {station}, {campaign.kinds[station]}"
        for station, defect in campaign.defects.items()
        if defect.rule not in found[station]
    ]
    assert not missed, told(missed)


def test_nothing_is_found_at_sound_stations(campaign, found):
    false = [
        f"{rule} at {station}, {campaign.kinds[station]}" for station in campaign.sound() for rule in found[station]
    ]
    assert not false, told(false)


def test_all_of_a_sound_station_is_assessable(campaign, audit):
    open_questions = audit.sql(
        "SELECT rule, substation, asset, missing FROM audit.result WHERE outcome = 'not_assessable'"
    ).fetchall()
    sound = set(campaign.sound())
    cases = [
        f"{rule} at {station} {asset}, {campaign.kinds[drawn_as(station)]}: {missing}"
        for rule, station, asset, missing in open_questions
        if drawn_as(station) in sound
    ]
    assert not cases, told(cases)


def test_every_rule_has_something_to_ask_at_sound_stations(campaign, audit, rulebook):
    asked = audit.sql("SELECT DISTINCT rule, substation FROM audit.result WHERE outcome = 'satisfied'").fetchall()
    sound = set(campaign.sound())
    assert rulebook - {rule for rule, station in asked if drawn_as(station) in sound} == set(SILENT_WHERE_SOUND)


def test_a_defect_has_no_consequences_but_those_declared(campaign, found):
    strange = [
        f"{rule} in the wake of {defect.rule} ({defect.name}) at {station}, {campaign.kinds[station]}"
        for station, defect in campaign.defects.items()
        for rule in found[station] - {defect.rule} - set(defect.also)
    ]
    assert not strange, told(strange)


@pytest.mark.skipif(
    WANTED < 9_000, reason="what some consequences need is drawn often enough in a larger campaign only"
)
def test_no_consequence_is_declared_in_vain(campaign, found):
    met = Counter(
        (defect.name, rule)
        for station, defect in campaign.defects.items()
        for rule in found[station] & set(defect.also)
    )
    assert [(d.name, rule) for d in DEFECTS for rule in d.also if not met[d.name, rule]] == []
