"""Computes the study tables from the inventory; imports engineering, schema, policy and store."""

from groundcheck.study.run import run_study

__all__ = ["run_study"]
