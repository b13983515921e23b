"""The policy: an owner's limits, margins and assumptions, one TOML file over the shipped default."""

import copy
import json
import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from groundcheck.errors import PolicyError
from groundcheck.nearest import nearest
from groundcheck.rule_choices import RuleChoice, choices_text, read_choices

# Entries that take one of a few values.
CHOICES: dict[str, tuple[str | float, ...]] = {
    "study.method": ("nominal", "iec60909"),
    "study.low_voltage_tolerance": (6.0, 10.0),
}


def default_policy_text() -> str:
    """The shipped policy, with the unit and the source of each entry."""
    return (files("groundcheck") / "policy_default.toml").read_text(encoding="utf-8")


class Policy:
    """All entries, read by dotted name: policy["neutral_device.current_margin"]; and what it says of single rules."""

    def __init__(self, tree: dict[str, Any], choices: tuple[RuleChoice, ...] = ()) -> None:
        self.tree = tree
        self.choices = choices
        self.entries = dict(_flatten(tree))

    def __getitem__(self, name: str) -> Any:
        """
        One entry.

        Raises
        ------
        PolicyError
            No such entry; the nearest one is named.
        """
        if name not in self.entries:
            raise PolicyError(f"no policy entry `{name}`; nearest is `{nearest(name, self.entries)}`")
        return self.entries[name]

    def admits(self, assumption: str) -> bool:
        """Whether a typical value may be used: the switch `assume.ASSUMPTION` is on, and `assume.any`."""
        return bool(self["assume.any"]) and bool(self[f"assume.{assumption}"])


def load_policy(path: str | Path | None = None) -> Policy:
    """
    The default policy, overridden by what the file names.

    Raises
    ------
    PolicyError
        The file can't be read, has an unknown entry, or a value of another type.
    """
    tree = tomllib.loads(default_policy_text())
    if path is None:
        return Policy(tree)
    try:
        own = tomllib.loads(Path(path).read_text(encoding="utf-8"))
    except OSError as error:
        raise PolicyError(f"{path}: cannot be read ({(error.strerror or 'unknown reason').lower()})") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise PolicyError(f"{path}: cannot be read as TOML ({error})") from error
    return override_policy(Policy(tree), own, where=str(path))


def override_policy(policy: Policy, own: dict[str, Any], where: str = "policy") -> Policy:
    """The policy with the entries of `own` in place of its own; see load_policy for errors."""
    known = policy.entries
    own = dict(own)
    choices = policy.choices + read_choices(own.pop("rule", []), where)
    tree = copy.deepcopy(policy.tree)
    for name, value in _flatten(own):
        branch = tree
        *path, leaf = name.split(".")
        fitting = _fitting(known, name, value, where)
        for part in path:
            branch = branch[part]
        branch[leaf] = fitting
    for number, choice in enumerate(choices, start=1):
        for name, value in choice.limits.items():
            _fitting(known, name, value, f"{where}: [[rule]] {number}")
    return Policy(tree, choices)


def _fitting(known: Mapping[str, Any], name: str, value: Any, where: str) -> Any:
    """The value in the type of the shipped entry; a whole number will do for a decimal one."""
    if name not in known:
        raise PolicyError(f"{where}: no entry `{name}`; nearest is `{nearest(name, known)}`")
    expected = known[name]
    number = isinstance(expected, float) and isinstance(value, int) and not isinstance(value, bool)
    if not number and type(value) is not type(expected):
        raise PolicyError(f"{where}: `{name}` is {value!r}; expected a {type(expected).__name__} such as {expected!r}")
    if value not in (words := CHOICES.get(name, (value,))):
        raise PolicyError(f"{where}: `{name}` is {value!r}; expected {' or '.join(repr(w) for w in words)}")
    return float(value) if number else value


def policy_text(policy: Policy) -> str:
    """The policy in force as TOML: the shipped text with each entry's unit and source, and its value as overridden."""
    default = Policy(tomllib.loads(default_policy_text()))
    lines = []
    section = ""
    for line in default_policy_text().splitlines():
        if heading := re.match(r"\[([\w.]+)\]", line):
            section = heading[1] + "."
        entry = re.match(r"(\w+) *=", line)
        name = section + entry[1] if entry else ""
        if entry and policy[name] != default[name]:
            value = json.dumps(policy[name], ensure_ascii=False)
            line = f"{entry[1]} = {value}  # set by the owner; shipped: {line.partition('=')[2].strip()}"
        lines.append(line)
    return "\n".join(lines) + "\n" + choices_text(policy.choices)


@cache
def entry_comments() -> dict[str, str]:
    """What the shipped policy says beside each entry: its unit, its source."""
    comments, section, above = {}, "", ""
    for line in default_policy_text().splitlines():
        if heading := re.match(r"\[([\w.]+)\]", line):
            section = heading[1] + "."
        if entry := re.match(r"(\w+) *=", line):
            beside = re.search(r"#\s*([^'\"#]*(?:\"[^\"]*\"[^'\"#]*)*)$", line)
            comments[section + entry[1]] = beside[1].strip() if beside else above
        above = line.lstrip("# ").strip() if line.startswith("#") else above if entry else ""
    return comments


def _flatten(tree: dict[str, Any], prefix: str = "") -> list[tuple[str, Any]]:
    rows: list[tuple[str, Any]] = []
    for name, value in tree.items():
        full = f"{prefix}{name}"
        rows.extend(_flatten(value, f"{full}.") if isinstance(value, dict) else [(full, value)])
    return rows
