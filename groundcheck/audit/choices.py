"""The owner's choices, made to hold for the answers of the rule in hand."""

from collections import defaultdict
from collections.abc import Mapping
from typing import Any

import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc

from groundcheck.audit.discovery import LoadedRule
from groundcheck.audit.question import ask
from groundcheck.audit.rule import Rule
from groundcheck.policy import Policy
from groundcheck.rule_choices import Ruling, choices_of, ruling
from groundcheck.store import Store


def rulings_of(store: Store, loaded: LoadedRule, policy: Policy) -> dict[str, Ruling]:
    """What holds for the rule at each station on record; empty where the policy says nothing of it."""
    choices = choices_of(policy.choices, loaded.name)
    if not choices:
        return {}
    districts = store.connection.execute("SELECT substation, district FROM inventory.substation").fetchall()
    return {station: ruling(choices, station, district) for station, district in districts}


def ask_with_limits_of_each(
    store: Store, rule: Rule, parameters: Mapping[str, Any], rulings: Mapping[str, Ruling]
) -> pa.Table:
    """
    The answers, those of each station by the limits that hold there; the query is run once for each set of limits.

    Raises
    ------
    RuleFault
        As for ask.
    """
    stations: dict[tuple[tuple[str, Any], ...], list[str]] = defaultdict(list)
    for station, each in rulings.items():
        if each.limits:
            stations[each.limits].append(station)
    answers = ask(store, rule, parameters)
    if not stations:
        return answers
    elsewhere = pa.array([station for group in stations.values() for station in group])
    parts = [answers.filter(pc.invert(pc.is_in(answers["substation"], value_set=elsewhere)))]
    for limits, group in stations.items():
        own = ask(store, rule, limited(rule, parameters, limits))
        parts.append(own.filter(pc.is_in(own["substation"], value_set=pa.array(group))))
    return pa.concat_tables(parts, promote_options="permissive")


def limited(rule: Rule, parameters: Mapping[str, Any], limits: tuple[tuple[str, Any], ...]) -> dict[str, Any]:
    """The rule's parameters with other limits, which are given by the names of their policy entries."""
    given = dict(limits)
    return {**parameters, **{name: given[entry] for name, entry in rule.policy.items() if entry in given}}


def drop_answers_not_asked_for(store: Store, rulings: Mapping[str, Ruling]) -> None:
    """Take out of the temporary table `answer` the stations of which the rule is not asked."""
    silent = [name for name, each in rulings.items() if not each.asked]
    if not silent:
        return
    store.connection.register("silent", pd.DataFrame({"substation": silent}, dtype="str"))
    try:
        store.connection.execute("DELETE FROM answer WHERE substation IN (SELECT substation FROM silent)")
    finally:
        store.connection.unregister("silent")


def choices_in_words(loaded: LoadedRule, policy: Policy) -> str | None:
    """What the policy says of the rule; None if nothing."""
    return "; ".join(choice.words for choice in choices_of(policy.choices, loaded.name)) or None
