"""The rulebook in words."""

from textwrap import dedent
from textwrap import fill as wrap
from typing import Any

from groundcheck.audit.choices import choices_in_words
from groundcheck.audit.discovery import LoadedRule, Rulebook
from groundcheck.errors import NoSuchRule
from groundcheck.nearest import nearest
from groundcheck.policy import Policy
from groundcheck.schema.stages.audit import SEVERITIES

WIDTH = 100


def list_rules(rulebook: Rulebook) -> str:
    """A line a rule, by severity and name; then what was refused, and why."""
    order = {severity: place for place, severity in enumerate(SEVERITIES)}
    rules = sorted(rulebook.rules.values(), key=lambda each: (order[each.rule.severity], each.name))
    width = max((len(each.name) for each in rules), default=0)
    lines = [f"{each.rule.severity:<7} {each.name:<{width}}  {each.rule.title}" for each in rules]
    lines.append(f"{len(rules)} rules run, {len(rulebook.refused)} refused")
    lines.extend(f"refused: {refusal}" for refusal in rulebook.refused)
    return "\n".join(lines)


def find_rule(rulebook: Rulebook, name: str) -> LoadedRule:
    """
    The rule of a name.

    Raises
    ------
    NoSuchRule
        No rulebook has it; the nearest name is given.
    """
    if name in rulebook.rules:
        return rulebook.rules[name]
    near = nearest(name, rulebook.rules)
    raise NoSuchRule(f"no rule `{name}`; " + (f"nearest is `{near}`" if near else "no rulebook holds any"))


def rule_record(loaded: LoadedRule, policy: Policy, problem: str | None = None) -> dict[str, Any]:
    """All that a rule says of itself, as a row of audit.rule."""
    rule = loaded.rule
    return {
        "rule": loaded.name,
        "rulebook": loaded.rulebook,
        "title": rule.title,
        "severity": rule.severity,
        "basis": rule.basis,
        "why": rule.why,
        "caution": rule.caution,
        "formula": rule.formula,
        "cannot_see": rule.cannot_see,
        "asks": rule.asks,
        "inputs": list(rule.inputs),
        "limits": "\n".join(f"{name} = {entry} = {policy[entry]}" for name, entry in rule.policy.items()),
        "message": rule.message,
        "working": rule.working,
        "remedy": rule.remedy,
        "query": dedent(rule.query).strip(),
        "examples": "\n".join(rule.examples),
        "choices": choices_in_words(loaded, policy),
        "problem": problem,
    }


def describe_rule(loaded: LoadedRule) -> str:
    """All that a rule says of itself, as plain text."""
    rule = loaded.rule
    policy = [f"{name} = {entry}" for name, entry in rule.policy.items()]
    parts = [
        ("severity", rule.severity),
        ("asks", f"every {rule.asks.replace('_', ' ')} to which it applies"),
        ("why", rule.why),
        ("basis", rule.basis),
        ("formula", rule.formula),
        ("inputs", ", ".join(rule.inputs)),
        ("policy", ", ".join(policy)),
        ("message", rule.message),
        ("working", " / ".join(rule.working.splitlines())),
        ("remedy", rule.remedy),
        ("caution", rule.caution),
        ("cannot see", rule.cannot_see),
        ("file", loaded.shown_file),
    ]
    lines = [loaded.name, rule.title, ""]
    lines.extend(
        wrap(text, WIDTH, initial_indent=f"{name:<11}", subsequent_indent=" " * 11, break_long_words=False)
        for name, text in parts
        if text
    )
    lines.extend(("", "examples"))
    lines.extend(f"  {label}" for label in rule.examples)
    lines.extend(("", "query"))
    lines.extend(f"  {line}" for line in dedent(rule.query).strip().splitlines())
    return "\n".join(lines)
