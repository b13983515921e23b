"""Rules: what one is, finding them, running them, outcomes and findings; imports schema, policy and store."""

from groundcheck.audit.catalogue import describe_rule, find_rule, list_rules
from groundcheck.audit.discovery import LoadedRule, Refusal, Rulebook, limits_read, load_rulebooks, rule_parts
from groundcheck.audit.engine import run_rules
from groundcheck.audit.rule import Rule
from groundcheck.audit.trial import try_rulebook

__all__ = [
    "LoadedRule",
    "Refusal",
    "Rule",
    "Rulebook",
    "describe_rule",
    "find_rule",
    "limits_read",
    "list_rules",
    "load_rulebooks",
    "rule_parts",
    "run_rules",
    "try_rulebook",
]
