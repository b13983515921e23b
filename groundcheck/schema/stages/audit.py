"""Stage audit: outcomes, findings, runs."""

import pandas as pd

from groundcheck.schema.columns import count, key, quantity, text, yes_no
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


class Finding(Table):
    """One rule's exception for one asset."""

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
    source_file: str = text("File.")
    sheet: str = text("Sheet.")
    cell: str = text("Cell.")
    status: str = text("open, or waived.")
    waiver: str = text("By whom it is waived, until when and why; or why a waiver no longer holds.")
    remedy: str = text("What would clear it.")
    working: str = text("The calculation with its numbers.")
    caution: str = text("What to beware of.")
    basis: str = text("Standard and clause, or common practice.")
    district: str = text("District of the station.")


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


class Run(Table):
    """What was audited, when, with which policy."""

    made_at: str = key("Local time, ISO 8601.")
    version: str = text("Version of the program.")
    method: str = text("Method of the study.")
    policy: str = text("The policy in force, as TOML.")
    tolerances: str = text("Relative tolerances behind firm and marginal, by kind of input.")


AUDIT_TABLES = {
    "rule": RuleRecord,
    "result": Result,
    "missing_field": MissingField,
    "outcome": Outcome,
    "finding": Finding,
    "evidence": Evidence,
    "run": Run,
}
