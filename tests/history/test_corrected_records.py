"""A record that is corrected step by step: what each audit says of the one before, and why."""

import pandas as pd
import pytest
from history.corrected_fleet import fleet

from groundcheck.errors import NoSuchRun
from groundcheck.history import compare_latest, compare_runs, past_findings, past_runs
from groundcheck.store import Store

RULE = "neutral-devices/rated-current"


@pytest.fixture(scope="module")
def kept(tmp_path_factory, audit_into):
    """Six audits: 300 A on the nameplate, 350 A, a margin of 1.3, no rating, 500 A and no margin, no device."""
    path = tmp_path_factory.mktemp("kept") / "fleet.duckdb"
    steps = [
        (fleet(300.0), {}),
        (fleet(350.0), {}),
        (fleet(350.0), {"current_margin": 1.3}),
        (fleet(None), {"current_margin": 1.3}),
        (fleet(500.0), {}),
        (fleet(device=False), {}),
    ]
    changes = []
    for tables, entries in steps:
        made = audit_into(path, tables, **entries)
        changes.append(made.sql("SELECT * FROM audit.change").df())
        made.store.close()
    with Store(path) as store:
        yield store, changes


def of_device(changes: pd.DataFrame) -> dict[str, object]:
    """What is said of the resistor's rated current."""
    (row,) = changes[changes["rule"] == RULE].to_dict("records")
    return row


def test_the_first_audit_has_nothing_to_compare_with(kept):
    assert len(kept[1][0]) == 0


def test_a_better_nameplate_improves_the_finding(kept):
    row = of_device(kept[1][1])
    assert (row["change"], row["actual_before"], row["actual"]) == ("improved", "300", "350")
    assert row["why"] == "record changed: neutral device ELM:NR1 rated_current 300.0 -> 350.0"


def test_a_larger_margin_worsens_it_and_names_the_policy_entry(kept):
    row = of_device(kept[1][2])
    assert row["change"] == "worsened"
    assert row["why"] == "policy changed: neutral_device.current_margin 1.0 -> 1.3"


def test_a_rating_struck_out_clears_nothing_it_can_no_longer_be_assessed(kept):
    row = of_device(kept[1][3])
    assert row["change"] == "cleared"
    assert row["now"] == "not assessable: neutral_device.rated_current of NR1"
    assert row["why"] == "record changed: neutral device ELM:NR1 rated_current 350.0 -> blank"


def test_two_audits_of_a_store_are_compared_over_those_between(kept):
    row = of_device(compare_runs(kept[0], 1, 5))
    assert (row["change"], row["actual_before"]) == ("cleared", "300")
    assert row["why"] == "record changed: neutral device ELM:NR1 rated_current 300.0 -> 500.0"


def test_a_device_that_went_is_said_to_have_gone(kept):
    row = of_device(compare_runs(kept[0], 1, 6))
    assert "neutral device ELM:NR1 went" in row["why"]


def test_what_is_as_it_was_persists_without_a_reason(kept):
    again = compare_latest(kept[0], kept[0])
    assert list(again["change"]) == ["persisting"]
    assert again["why"].isna().all()


def test_every_audit_has_its_say_in_the_history_of_a_finding(kept):
    store, changes = kept
    said = past_findings(store, str(of_device(changes[1])["finding"]))
    assert [row["actual"] for row in said] == ["300", "350", "350", None, None, None]
    assert list(past_runs(store)["run"]) == [1, 2, 3, 4, 5, 6]


def test_two_stores_are_compared_by_their_last_audits(kept, tmp_path, audit_into):
    store, _ = kept
    other = audit_into(tmp_path / "other.duckdb", fleet(390.0)).store
    row = of_device(compare_latest(store, other))
    assert row["change"] == "new"
    assert "neutral device ELM:NR1 came" in row["why"]
    other.close()


@pytest.mark.parametrize(
    ("before", "after", "message"),
    [
        (1, 9, "{path} has no audit 9; it holds audits 1 to 6"),
        (3, 2, "audit 3 does not come before audit 2; name the earlier one first"),
    ],
)
def test_an_audit_that_is_not_there_is_said(kept, before, after, message):
    store, _ = kept
    with pytest.raises(NoSuchRun) as refusal:
        compare_runs(store, before, after)
    assert str(refusal.value) == message.format(path=store.path)


def test_one_audit_is_not_enough(tmp_path, audit_into):
    store = audit_into(tmp_path / "one.duckdb", fleet()).store
    with pytest.raises(NoSuchRun) as refusal:
        compare_runs(store)
    assert str(refusal.value) == f"{tmp_path / 'one.duckdb'} holds one audit; two are needed, or name a second store"
    store.close()
