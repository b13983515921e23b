"""The owner's choices, made to hold for the answers of the rule in hand."""

import pandas as pd

from groundcheck.audit.discovery import LoadedRule
from groundcheck.policy import Policy
from groundcheck.rule_choices import Ruling, choices_of, ruling
from groundcheck.store import Store


def drop_answers_not_asked_for(store: Store, loaded: LoadedRule, policy: Policy) -> dict[str, Ruling]:
    """
    Take out of the temporary table `answer` the stations of which the rule is not asked.

    Returns what holds at each station, empty where the policy says nothing of the rule.
    """
    choices = choices_of(policy.choices, loaded.name)
    if not choices:
        return {}
    rulings = {station: ruling(choices, station, district) for station, district in stations(store).items()}
    silent = pd.DataFrame({"substation": [name for name, each in rulings.items() if not each.asked]}, dtype="str")
    store.connection.register("silent", silent)
    try:
        store.connection.execute("DELETE FROM answer WHERE substation IN (SELECT substation FROM silent)")
    finally:
        store.connection.unregister("silent")
    return rulings


def stations(store: Store) -> dict[str, str | None]:
    """The district of each station that is on record or that an answer is about."""
    query = """
        SELECT substation, district FROM inventory.substation
        UNION SELECT substation, NULL FROM answer WHERE substation NOT IN (SELECT substation FROM inventory.substation)
    """
    return dict(store.connection.execute(query).fetchall())


def choices_in_words(loaded: LoadedRule, policy: Policy) -> str | None:
    """What the policy says of the rule; None if nothing."""
    return "; ".join(choice.words for choice in choices_of(policy.choices, loaded.name)) or None
