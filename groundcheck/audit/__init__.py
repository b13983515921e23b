"""Rules: what one is, finding them, running them, outcomes and findings; imports schema, policy and store."""

from groundcheck.audit.rule import Rule

__all__ = ["Rule"]
