"""Running the rulebook over the store: one query a rule, for the whole fleet at once."""

from datetime import date
from typing import Any

import pandas as pd

from groundcheck.audit.answers import exceptions_kept, keep_answers
from groundcheck.audit.catalogue import rule_record
from groundcheck.audit.cells import place_assets
from groundcheck.audit.choices import ask_with_limits_of_each, drop_answers_not_asked_for, rulings_of
from groundcheck.audit.computed_from import write_computed_from
from groundcheck.audit.discovery import LoadedRule, Refusal, Rulebook, refuse
from groundcheck.audit.evidence import Evidence, gather_evidence
from groundcheck.audit.fault import RuleFault
from groundcheck.audit.findings import word_exceptions, write_findings
from groundcheck.audit.missing import add_cells_to_fill_in, trace_missing, write_missing
from groundcheck.audit.outcomes import write_outcomes, write_results
from groundcheck.audit.question import rule_parameters
from groundcheck.audit.validation import check_texts
from groundcheck.policy import Policy
from groundcheck.progress import Progress
from groundcheck.store import Store

WRITTEN = ("rule", "result", "missing_field", "outcome", "finding", "evidence")


def run_rules(
    store: Store,
    rulebook: Rulebook,
    policy: Policy,
    progress: Progress | None = None,
    *,
    audit_date: date | None = None,
) -> None:
    """
    Run every rule and write stage audit; a rule that can't be run is recorded as refused, and the others run.

    What is overdue is so on the audit date, which is today if none is given.

    The rows of an earlier run are replaced, so that the same store gives the same rows.
    """
    store.clear("audit", *WRITTEN)
    place_assets(store)
    as_of = audit_date or date.today()
    records = [_refused_record(refusal) for refusal in rulebook.refused]
    if progress is not None:
        progress.stage("rules", len(rulebook.rules))
    findings: list[dict[str, Any]] = []
    evidence: list[tuple[str, Evidence]] = []
    for loaded in rulebook.rules.values():
        problem = None
        try:
            for finding, inputs in _run_rule(store, loaded, policy, as_of):
                findings.append(finding)
                evidence.extend((finding["finding"], each) for each in inputs)
        except RuleFault as fault:
            problem = str(refuse(loaded, fault))
        records.append(rule_record(loaded, policy, problem))
        if progress is not None:
            progress.advance()
    write_findings(store, findings, evidence)
    write_computed_from(store)
    add_cells_to_fill_in(store)
    store.write("audit", "rule", pd.DataFrame(records))
    write_outcomes(store)


def _run_rule(
    store: Store, loaded: LoadedRule, policy: Policy, audit_date: date
) -> list[tuple[dict[str, Any], list[Evidence]]]:
    """
    Ask, word the exceptions, and only then write, so that a rule that is refused leaves no rows.

    Returns the findings, each with its evidence; their cells are found for all rules at once.
    """
    parameters = rule_parameters(loaded.rule, policy, audit_date)
    rulings = rulings_of(store, loaded, policy)
    answers = ask_with_limits_of_each(store, loaded.rule, parameters, rulings)
    columns = answers.column_names
    check_texts(loaded.rule, columns)
    if not len(answers):
        return []
    keep_answers(store, answers)
    drop_answers_not_asked_for(store, rulings)
    exceptions = exceptions_kept(store)
    worded = word_exceptions(loaded, exceptions, parameters, rulings)
    evidence, provisional = gather_evidence(store, loaded.rule, columns, exceptions)
    numbers = [answer["answer_number"] for answer in exceptions]
    trace_missing(store, loaded.rule, columns)
    write_missing(store, loaded.name)
    write_results(store, loaded, {n: finding["message"] for n, finding in zip(numbers, worded, strict=True)})
    return [
        ({**finding, "provisional": number in provisional}, evidence[number])
        for number, finding in zip(numbers, worded, strict=True)
    ]


def _refused_record(refusal: Refusal) -> dict[str, Any]:
    return {"rule": refusal.rule, "rulebook": refusal.rulebook, "problem": str(refusal)}
