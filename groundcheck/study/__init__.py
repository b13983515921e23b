"""Computes the study tables from the inventory; imports engineering, schema, policy and store."""

from groundcheck.study.networks.method import method_note
from groundcheck.study.run import run_study

__all__ = ["method_note", "run_study"]
