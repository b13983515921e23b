"""Audits the neutral-grounding records of a fleet of substations; the public names are here."""

# `audit` is the function. The package groundcheck.audit, from which rules import `Rule`, stays importable by its name.
from groundcheck.pipeline import Audit, audit

__all__ = ["Audit", "audit"]
