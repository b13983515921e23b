"""Which entries of the policy differ between two audits, and which rules that concerns."""

import json
import tomllib
from collections.abc import Mapping
from typing import Any

import pandas as pd

from groundcheck.policy import Policy


def policy_entries(text: str) -> dict[str, Any]:
    """The entries of a policy as it was stored with an audit; what it says of single rules is left out."""
    tree = tomllib.loads(text)
    tree.pop("rule", None)
    return Policy(tree).entries


def policy_changes(before: str, after: str, rules: Mapping[str, tuple[set[str], bool]]) -> pd.DataFrame:
    """
    For each rule the changed entries behind it, in words; a rule without any has no row.

    `rules` gives for each rule the entries that it reads, and whether it reads the study. An entry that no rule reads
    is taken for one of the study's. An entry that one program has and the other has not is a change of the program.
    """
    old, new = policy_entries(before), policy_entries(after)
    changed = {
        name: f"{name} {json.dumps(old[name])} -> {json.dumps(new[name])}"
        for name in sorted(old.keys() & new.keys())
        if old[name] != new[name]
    }
    read_by_rules = {entry for entries, _ in rules.values() for entry in entries}
    rows = []
    for rule, (entries, computed) in rules.items():
        behind = [
            words for name, words in changed.items() if name in entries or (computed and name not in read_by_rules)
        ]
        if behind:
            rows.append({"rule": rule, "policy_said": "policy changed: " + ", ".join(behind)})
    return pd.DataFrame(rows, columns=["rule", "policy_said"]).astype("str")
