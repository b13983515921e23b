"""The JUnit file: read back by junitparser, its counts are those of the outcomes; nothing in it breaks XML."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from junitparser import Error, Failure, JUnitXml, Skipped, TestCase

from groundcheck.report.cell_text import clean_text
from groundcheck.report.junit import write_junit
from groundcheck.store import Store


def cases(store: Store, path: Path) -> dict[tuple[str, str], TestCase]:
    """Each case by suite and name, once the file's own counts are seen to be right."""
    write_junit(store, path)
    told = JUnitXml.fromfile(str(path))
    counts = [(each.tests, each.failures, each.errors, each.skipped) for each in (told, *told)]
    told.update_statistics()
    assert counts == [(each.tests, each.failures, each.errors, each.skipped) for each in (told, *told)]
    found = [((suite.name, case.name), case) for suite in told for case in suite]
    assert len(found) == len(dict(found))
    return dict(found)


def kind(case: TestCase) -> type | None:
    (result,) = case.result or [None]
    return type(result) if result is not None else None


def test_cases_of_the_sample_fleet_are_its_outcomes(sample_store: Store, tmp_path: Path) -> None:
    found = cases(sample_store, tmp_path / "junit.xml")
    names = dict(
        sample_store.sql("SELECT substation, concat_ws(' ', substation, name) FROM inventory.substation").fetchall()
    )
    waived = {
        (rule, station): count
        for rule, station, count in sample_store.sql(
            "SELECT rule, substation, count(*) FROM audit.finding WHERE status = 'waived' GROUP BY ALL"
        ).fetchall()
    }
    asked = 0
    for rule, station, satisfied, exceptions, missing, _ in sample_store.sql("FROM audit.outcome").fetchall():
        if satisfied + exceptions + missing == 0:
            assert (rule, names[station]) not in found
            continue
        asked += 1
        still_open = exceptions - waived.get((rule, station), 0)
        case = found[rule, names[station]]
        assert kind(case) is (Failure if still_open else Skipped if missing else None)
        if still_open:
            assert case.result[0].text.count(", finding F") == still_open
    assert asked == len(found)


def test_failure_carries_message_and_working(filled_store: Store, tmp_path: Path) -> None:
    case = cases(filled_store, tmp_path / "junit.xml")["neutral-devices/rated-current", "ASH"]
    (failure,) = case.result
    assert case.classname == "North"
    assert failure.message == "NR1 is rated 400 A; its duty is 640 A (and 1 finding more)"
    assert failure.type == "high"
    lines = failure.text.splitlines()
    assert "  640 A let-through x 1 margin = 640 A" in lines
    assert "caution: Isolate and prove dead first." in lines
    assert "source: north.xlsx · Resistors · C6" in lines


def test_what_was_not_checked_is_skipped_and_what_is_waived_is_told(filled_store: Store, tmp_path: Path) -> None:
    filled_store.sql("SELECT 1")
    filled_store.connection.execute("UPDATE audit.finding SET status = 'waived', waiver = 'by A until 2030'")
    found = cases(filled_store, tmp_path / "junit.xml")
    passed, skipped = (found["neutral-devices/rated-current", station] for station in ("ASH", "ELM"))
    assert kind(passed) is None
    assert "waiver: by A until 2030" in passed.system_out.splitlines()
    assert kind(skipped) is Skipped
    assert skipped.result[0].message == "1 check not assessable, 0 satisfied"
    assert "waiver: by A until 2030" in skipped.system_out.splitlines()


def test_refused_rule_is_an_error(filled_store: Store, tmp_path: Path) -> None:
    case = cases(filled_store, tmp_path / "junit.xml")["local/spare", "rule refused"]
    assert kind(case) is Error
    assert case.result[0].message == "the query returns no column `ok`"


def test_store_without_an_audit_gives_an_empty_file(empty_store: Store, tmp_path: Path) -> None:
    assert cases(empty_store, tmp_path / "junit.xml") == {}


def test_hostile_text_is_text(
    filled_store: Store, fill: Callable[..., None], finding: dict[str, Any], hostile_text: str, tmp_path: Path
) -> None:
    filled_store.connection.execute("UPDATE inventory.substation SET district = ?, name = ?", [hostile_text] * 2)
    filled_store.connection.execute("UPDATE audit.rule SET title = ?", [hostile_text])
    filled_store.connection.execute("UPDATE audit.result SET missing = ?", [hostile_text])
    named = dict.fromkeys(("asset", "message", "remedy", "caution", "sheet"), hostile_text)
    fill(filled_store, "audit.finding", finding | named | {"finding": "f-0", "severity": "high"})
    shown = clean_text(hostile_text)
    ash, elm = (
        cases(filled_store, tmp_path / "junit.xml")["neutral-devices/rated-current", f"{station} {shown}"]
        for station in ("ASH", "ELM")
    )
    assert ash.classname == shown
    assert f"remedy: {shown}" in ash.result[0].text
    assert f"high: {shown}" in ash.result[0].text
    assert shown in elm.result[0].text
