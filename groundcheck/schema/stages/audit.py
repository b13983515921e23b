"""Stage audit: outcomes, findings, runs."""

import pandas as pd

from groundcheck.schema.columns import Day, count, date, key, places, quantity, text, yes_no
from groundcheck.schema.stages.bounds import HIGH, LOW
from groundcheck.schema.table import Table

SEVERITIES = ("high", "medium", "low")


class RuleRecord(Table):
    """A rule that ran, or was refused and why."""

    rule: str = key("Name.")
    rulebook: str = text("Package or folder it came from.")
    title: str = text("The defect.")
    severity: str = text("high, medium or low.")
    basis: str = text("Standard and clause, or common practice.")
    why: str = text("What can happen.")
    caution: str = text("What to beware of.")
    formula: str = text("The calculation in symbols.")
    cannot_see: str = text("What it does not look at.")
    asks: str = text("Kind of asset it asks about.")
    inputs: list[str] = places("The fields and quantities that it reads, table.column.")
    limits: str = text("The policy entries that it reads, a line each: short name, entry, value.")
    message: str = text("What a finding says; a column of the query stands in braces.")
    working: str = text("Its working, a step a line.")
    remedy: str = text("Its remedy.")
    query: str = text("The SELECT that asks.")
    examples: str = text("What its examples show, a line each.")
    choices: str = text("What the policy says of it: where it is not asked, or is of another severity.")
    problem: str = text("Why it was refused; blank if it ran.")


class Result(Table):
    """The outcome of one rule for one asset."""

    rule: str = key("Rule.")
    substation: str = key("Station.")
    asset_kind: str = key("Kind of asset.")
    asset: str = key("Tag.")
    item: str = key("Which of several questions about one asset, such as the winding; blank if one.")
    outcome: str = text("satisfied, exception or not_assessable.")
    message: str = text("What an exception says.")
    missing: str = text("Fields that would make it assessable, table.field of asset, separated by semicolons.")


class MissingField(Table):
    """A field that would make a check assessable."""

    rule: str = key("Rule.")
    substation: str = key("Station of the asset asked about.")
    asset_kind: str = key("Kind of asset asked about.")
    asset: str = key("Its tag.")
    item: str = key("Which of several questions about the asset.")
    blocking_substation: str = text("Station of the asset whose record is thin.")
    blocking_asset_kind: str = key("Its kind.")
    blocking_asset: str = key("Its tag.")
    field: str = key("Field to fill in.")
    source_file: str = text("File of that asset's row.")
    sheet: str = text("Sheet.")
    cell: str = text("Cell to fill in; blank where the sheet has no such column.")


class Outcome(Table):
    """Counts of the four outcomes, a rule and station."""

    rule: str = key("Rule.")
    substation: str = key("Station.")
    satisfied: pd.Int64Dtype = count("Satisfied.")
    exceptions: pd.Int64Dtype = count("Exceptions.")
    not_assessable: pd.Int64Dtype = count("Not assessable.")
    not_applicable: pd.Int64Dtype = count("Assets of the kind asked about to which the rule does not apply.")


class FindingFacts(Table):
    """What a finding says, now or in an earlier audit."""

    finding: str = key("Identity, the same from one audit to the next while rule and asset are.")
    rule: str = text("Rule.")
    severity: str = text("high, medium or low.")
    substation: str = text("Station.")
    asset_kind: str = text("Kind of asset.")
    asset: str = text("Tag.")
    item: str = text("Which of several questions about one asset, such as the winding; blank if one.")
    message: str = text("What is wrong, in numbers.")
    actual: str = text("What is on record or computed.")
    required: str = text("What is required.")
    unit: str = text("Unit of both.")
    actual_value: float = quantity("Actual as a number; blank where it is none.", "as its unit")
    actual_low: float = quantity(LOW, "as its unit")
    actual_high: float = quantity(HIGH, "as its unit")
    required_value: float = quantity("Required as a number; blank where it is none.", "as its unit")
    required_low: float = quantity(LOW, "as its unit")
    required_high: float = quantity(HIGH, "as its unit")
    provisional: pd.BooleanDtype = yes_no("Whether it rests on an assumed value.")
    robustness: str = text("firm, or marginal where tolerances of the inputs, or what is assumed, may turn the answer.")
    status: str = text("open, or waived.")
    waiver: str = text("By whom it is waived, until when and why; or why a waiver no longer holds.")
    district: str = text("District of the station.")


class Finding(FindingFacts):
    """One rule's exception for one asset."""

    source_file: str = text("File.")
    sheet: str = text("Sheet.")
    cell: str = text("Cell.")
    remedy: str = text("What would clear it.")
    working: str = text("The calculation with its numbers.")
    caution: str = text("What to beware of.")
    basis: str = text("Standard and clause, or common practice.")


class Evidence(Table):
    """An input of a finding: value, and the cell that it was read from."""

    finding: str = key("Finding.")
    position: pd.Int64Dtype = count("Order: the rule's inputs, then what the computed ones come from.")
    role: str = text("input: the rule reads it. basis: a computed input comes from it.")
    computed: pd.BooleanDtype = yes_no("Whether it is computed, so that no cell holds it.")
    input: str = text("table.column.")
    asset: str = text("Asset whose field it is.")
    value: str = text("Value used.")
    unit: str = text("Unit.")
    source_file: str = text("File; blank for a computed quantity.")
    sheet: str = text("Sheet.")
    cell: str = text("Cell.")
    found: str = text("Text found there.")


class WaiverRecord(Table):
    """A finding that a person accepted until a date, and what has become of the acceptance."""

    finding: str = key("Finding.")
    state: str = text("in_force, expired, worsened, or finding_cleared where the audit makes no such finding.")
    remark: str = text("What the state rests on, in words.")
    accepted_by: str = text("Who accepted it.")
    reason: str = text("Why.")
    until: Day = date("Last day on which it holds.")
    accepted_on: Day = date("When it was accepted, as far as the file tells.")
    rule: str = text("Rule.")
    substation: str = text("Station.")
    asset_kind: str = text("Kind of asset.")
    asset: str = text("Tag.")
    item: str = text("Which of several questions about one asset.")
    severity: str = text("Severity at acceptance.")
    actual: str = text("Actual at acceptance; as text where it was none.")
    required: str = text("Required at acceptance; as text where it was none.")
    actual_value: float = quantity("Actual at acceptance as a number.", "as its unit")
    required_value: float = quantity("Required at acceptance as a number.", "as its unit")
    unit: str = text("Unit of both.")
    source_file: str = text("Waiver file or exception workbook.")
    place: str = text("Entry or cell in it.")
    by_hand: pd.BooleanDtype = yes_no("Whether it was written into a workbook rather than a waiver file.")
    replaces: list[str] = places("Marks of the waivers that it overrules.")


class DispositionRecord(Table):
    """What a person wrote beside a finding in an exception workbook."""

    finding: str = key("Finding.")
    disposition: str = text("open, accepted, corrected or disputed.")
    said_by: str = text("Who said so.")
    until: Day = date("Until when.")
    remark: str = text("Remark; the reason of an acceptance.")
    counts: pd.BooleanDtype = yes_no("Whether it is shown; not where another file overrules it, or a waiver tells it.")
    source_file: str = text("Workbook.")
    place: str = text("Cell.")
    replaces: list[str] = places("Marks of the waivers that it overrules.")


class Run(Table):
    """An audit: when it was made, with which policy."""

    run: pd.Int64Dtype = count("Number of the audit in its store, from 1.")
    made_at: str = text("Local time, ISO 8601.")
    as_of: Day = date("Day as of which it asks what is overdue.")
    version: str = text("Version of the program.")
    method: str = text("Method of the study.")
    policy: str = text("The policy in force, as TOML.")
    tolerances: str = text("Relative tolerances behind firm and marginal, by kind of input.")
    notices: str = text("What the policy names and no record does, a line each.")


class PastFinding(FindingFacts):
    """A finding as an audit of this store left it."""

    run: pd.Int64Dtype = count("Audit.")
    rests_on: list[str] = places("The record fields that it rested on: table.column of STATION:TAG.")


class PastRule(Table):
    """A rule as an audit of this store ran it."""

    run: pd.Int64Dtype = count("Audit.")
    rule: str = key("Name.")
    digest: str = text("Digest of all that decides its answers.")
    policy_entries: list[str] = places("Policy entries that it reads.")
    computed: pd.BooleanDtype = yes_no("Whether it reads the study.")
    choices: str = text("What the policy said of it.")


class KeptRecord(Table):
    """A filled field of the inventory as the last audit saw it; kept where the store is a file."""

    asset_kind: str = key("Kind of asset.")
    substation: str = key("Station.")
    asset: str = key("Tag.")
    field: str = key("Field.")
    value: str = text("Value in the canonical unit.")


class RecordChange(Table):
    """A field of the inventory that differs from the audit before; of an asset that came or went only its tag."""

    run: pd.Int64Dtype = count("Audit that saw the change.")
    asset_kind: str = key("Kind of asset.")
    substation: str = key("Station.")
    asset: str = key("Tag.")
    field: str = key("Field.")
    before: str = text("Value before; blank if there was none.")
    after: str = text("Value after; blank if there is none.")


class Change(Table):
    """What became of a finding since the audit before, and why."""

    change: str = text("new, worsened, improved, persisting or cleared.")
    finding: str = key("Identity.")
    rule: str = text("Rule.")
    severity_before: str = text("Severity before.")
    severity: str = text("Severity now; blank if cleared.")
    substation: str = text("Station.")
    district: str = text("District of the station.")
    asset_kind: str = text("Kind of asset.")
    asset: str = text("Tag.")
    item: str = text("Which of several questions about one asset.")
    message_before: str = text("What was wrong.")
    message: str = text("What is wrong.")
    actual_before: str = text("Actual before.")
    actual: str = text("Actual now.")
    required_before: str = text("Required before.")
    required: str = text("Required now.")
    unit: str = text("Unit of these.")
    status_before: str = text("Status before.")
    status: str = text("Status now.")
    now: str = text("How the question ends now that it is no finding: satisfied, not assessable; blank: not asked.")
    why: str = text("What changed: record, rule, policy, program, or the day as of which it is asked.")


AUDIT_TABLES = {
    "rule": RuleRecord,
    "result": Result,
    "missing_field": MissingField,
    "outcome": Outcome,
    "finding": Finding,
    "evidence": Evidence,
    "waiver": WaiverRecord,
    "disposition": DispositionRecord,
    "run": Run,
    "past_finding": PastFinding,
    "past_rule": PastRule,
    "kept_record": KeptRecord,
    "record_change": RecordChange,
    "change": Change,
}
