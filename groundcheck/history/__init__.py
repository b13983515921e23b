"""What earlier audits of a store found, and what changed since; imports policy and store, knows no other stage."""

from groundcheck.history.changes import compare_latest, compare_runs
from groundcheck.history.past import last_run, past_findings, past_runs
from groundcheck.history.runs import keep_run

__all__ = ["compare_latest", "compare_runs", "keep_run", "last_run", "past_findings", "past_runs"]
