"""Facts of findings: order, what is cut and counted, what is assumed behind them, what earlier audits said."""

import json
from collections.abc import Callable
from typing import Any

import pytest

from groundcheck.report.cell_text import clean_text
from groundcheck.report.facts import finding_facts
from groundcheck.store import Store


def test_findings_come_by_station_open_first_then_by_severity(filled_store: Store, fill: Any, finding: Any) -> None:
    more = [
        {"finding": "f-4", "substation": "ASH", "severity": "high", "status": "waived", "asset": "A0"},
        {"finding": "f-5", "substation": "ASH", "severity": "low", "asset": "A0"},
        {"finding": "f-6", "substation": "ABE", "severity": "low"},
    ]
    fill(filled_store, "audit.finding", *(finding | each for each in more))
    assert [facts["finding"] for facts in finding_facts(filled_store)] == ["f-6", "f-1", "f-2", "f-5", "f-4", "f-3"]


def test_only_the_wanted_stations_are_read(filled_store: Store) -> None:
    assert [facts["finding"] for facts in finding_facts(filled_store, substations=["ELM"])] == ["f-3"]
    assert list(finding_facts(filled_store, substations=[])) == []


def test_finding_carries_its_rule_and_its_cell(filled_store: Store) -> None:
    facts = next(finding_facts(filled_store))
    assert facts["title"] == "Fault current exceeds the rating"
    assert facts["why"] == "It overheats."
    assert (facts["file"], facts["sheet"], facts["cell"]) == ("north.xlsx", "Resistors", "C6")
    assert facts["working"] == ["640 A let-through x 1 margin = 640 A"]
    assert [each["input"] for each in facts["evidence"]] == [
        "neutral_device.rated_current",
        "neutral_duty.current_a",
        "infeed.x_over_r",
    ]


@pytest.mark.parametrize(("limit", "kept", "left_out"), [(None, 6, 0), (0, 0, 6), (2, 2, 4), (6, 6, 0), (7, 6, 0)])
def test_the_nearest_of_the_basis_are_kept_and_the_rest_is_counted(
    filled_store: Store, fill: Callable[..., None], limit: int | None, kept: int, left_out: int
) -> None:
    # Positions with gaps, written in no order: the audit leaves out what an input names already.
    rows = [{"finding": "f-1", "role": "basis", "input": "line.x1", "asset": f"L{p}"} for p in (1040, 1003, 1009, 1005)]
    placed = [row | {"position": int(row["asset"][1:]), "computed": False, "value": "1"} for row in rows]
    fill(filled_store, "audit.evidence", *placed, placed[0] | {"asset": "L1041", "position": 1041})
    facts = next(finding_facts(filled_store, basis_limit=limit))
    nearest = ["Q", "L1003", "L1005", "L1009", "L1040", "L1041"]
    assert [each["asset"] for each in facts["evidence"] if each["role"] == "basis"] == nearest[:kept]
    assert [each["asset"] for each in facts["evidence"] if each["role"] == "input"] == ["NR1", "NR1"]
    assert facts["evidence_left_out"] == left_out


def test_what_is_assumed_is_told_of_own_and_of_foreign_assets(filled_store: Store, fill: Any, finding: Any) -> None:
    fill(filled_store, "audit.finding", finding | {"finding": "f-9", "asset": "A1", "provisional": True})
    told = {"finding": "f-9", "role": "basis", "computed": False}
    fill(
        filled_store,
        "audit.evidence",
        told | {"position": 1001, "input": "transformer.impedance", "asset": "T1"},
        told | {"position": 1002, "input": "transformer.rated_power", "asset": "T1"},
        told | {"position": 1003, "input": "infeed.bus", "asset": "ELM:Q1"},
    )
    stands_in = {"field": "x_over_r", "value": "20", "why": "typical"}
    fill(
        filled_store,
        "study.assumption",
        stands_in | {"substation": "ASH", "asset_kind": "transformer", "asset": "T1"},
        stands_in | {"substation": "ELM", "asset_kind": "transformer", "asset": "T1"},  # a namesake elsewhere
        stands_in | {"substation": "ELM", "asset_kind": "infeed", "asset": "Q1"},
        stands_in | {"substation": "ASH", "asset_kind": "line", "asset": "T1"},  # a namesake of another kind
    )
    by_name = {facts["finding"]: facts for facts in finding_facts(filled_store, basis_limit=1)}
    assert by_name["f-9"]["assumed"] == [
        {"field": "infeed.x_over_r", "asset": "ELM:Q1", "value": "20", "why": "typical"},
        {"field": "transformer.x_over_r", "asset": "T1", "value": "20", "why": "typical"},
    ]
    assert by_name["f-1"]["assumed"] == []


def test_history_tells_an_audit_only_where_it_said_something_new(filled_store: Store, fill: Any) -> None:
    filled_store.clear("audit", "run")
    fill(filled_store, "audit.run", *({"run": run, "made_at": f"2025-0{run}-01"} for run in range(1, 7)))
    said = {"finding": "f-1", "severity": "high", "status": "open", "message": "640 A"}
    past = [said | {"run": 2}, said | {"run": 3}, said | {"run": 5, "status": "waived", "waiver": "by A"}]
    fill(filled_store, "audit.past_finding", *past, past[-1] | {"run": 6})
    facts = next(finding_facts(filled_store))
    told = [(each["run"], each["status"], each["message"], each["waiver"]) for each in facts["history"]]
    assert told == [
        (1, None, None, None),
        (2, "open", "640 A", None),
        (4, None, None, None),
        (5, "waived", "640 A", "by A"),
    ]


def test_values_without_limit_are_words_or_none_never_infinity(filled_store: Store, fill: Any, finding: Any) -> None:
    endless = {"actual_value": float("inf"), "actual_low": 3.0, "actual_high": float("inf"), "required_low": 38.0}
    numbers = endless | {"required_value": 40.0, "required_high": 42.0, "finding": "f-0", "substation": "AAA"}
    fill(filled_store, "audit.finding", finding | numbers | {"unit": "s"})
    facts = next(finding_facts(filled_store))
    assert facts["actual_value"] is None
    assert facts["actual_within"] == "3 to without limit"
    assert facts["required_value"] == 40.0
    assert facts["required_within"] == "38 to 42 s"
    json.dumps(list(finding_facts(filled_store)), allow_nan=False)


def test_hostile_text_is_cleaned_in_every_field(
    filled_store: Store, fill: Any, finding: dict[str, Any], hostile_texts: dict[str, str]
) -> None:
    for number, text in enumerate(hostile_texts.values()):
        named = {name: text for name, value in finding.items() if isinstance(value, str)}
        fill(filled_store, "audit.finding", finding | named | {"finding": f"x-{number:02}", "substation": "AAA"})
        told = {"finding": f"x-{number:02}", "role": "input", "position": 1, "computed": False}
        fill(filled_store, "audit.evidence", told | dict.fromkeys(("input", "asset", "value", "found", "sheet"), text))
    cleaned = {facts["finding"]: facts for facts in finding_facts(filled_store, substations=["AAA"])}
    for number, text in enumerate(hostile_texts.values()):
        facts, shown = cleaned[f"x-{number:02}"], clean_text(text)
        assert {facts["message"], facts["asset"], facts["district"], facts["remedy"], facts["cell"]} == {shown}
        assert facts["working"] == [clean_text(line) for line in shown.splitlines()]
        (evidence,) = facts["evidence"]
        assert {evidence["input"], evidence["asset"], evidence["value"], evidence["found"]} == {shown}


def test_reading_goes_on_while_the_store_is_asked_other_things(filled_store: Store) -> None:
    seen = []
    for facts in finding_facts(filled_store):
        filled_store.sql("SELECT 1").fetchall()
        seen.append(facts["finding"])
    assert seen == ["f-1", "f-2", "f-3"]
