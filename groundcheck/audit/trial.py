"""Trying a rulebook before it is used: every example, every comparison and limit that none of them watches."""

from collections.abc import Iterable

from groundcheck.audit.discovery import LoadedRule, Rulebook, refuse
from groundcheck.audit.examples import check_examples
from groundcheck.audit.fault import RuleFault
from groundcheck.audit.mutation import SCALE, unnoticed_limits, unnoticed_swaps
from groundcheck.progress import Progress


def try_rulebook(
    rulebook: Rulebook, rulebooks: Iterable[str] | None = None, progress: Progress | None = None
) -> list[str]:
    """
    What is wrong with the rules, a sentence each with file and line, and what is doubtful; empty if nothing is.

    `rulebooks` keeps to these packages or folders.
    """
    kept = None if rulebooks is None else set(rulebooks)
    problems = [str(refusal) for refusal in rulebook.refused if kept is None or refusal.rulebook in kept]
    tried = [loaded for loaded in rulebook.rules.values() if kept is None or loaded.rulebook in kept]
    if progress is not None:
        progress.stage("trying rules", len(tried))
    for loaded in tried:
        problems.extend(_try(loaded))
        if progress is not None:
            progress.advance()
    return problems


def _try(loaded: LoadedRule) -> list[str]:
    def told(part: str, why: str, text: str = "") -> str:
        return str(refuse(loaded, RuleFault(why, part, text)))

    faults = [told("examples", problem, _label(problem)) for problem in check_examples(loaded.rule)]
    if faults:
        return faults
    swaps = [
        told("query", f"no example notices a comparison other than `{comparison}`")
        for comparison in unnoticed_swaps(loaded.rule)
    ]
    limits = [
        told("policy", f"no example notices if the limit `{name}` is {SCALE:g} times as large", name)
        for name in unnoticed_limits(loaded.rule)
    ]
    return swaps + limits


def _label(problem: str) -> str:
    """The label of the example that a problem is about."""
    return problem.split("'")[1] if problem.startswith("example '") else ""
