"""The waiver file: what it says is read as it is meant, mistakes are named with their place, writing is stable."""

import tomllib
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from groundcheck.errors import WaiverError
from groundcheck.finding_identity import finding_id
from groundcheck.waivers import gather_waivers, waivers_text
from groundcheck.waivers.waiver import Waiver

FINDING = finding_id("a/b", "ASH", "bus", "B1", None)
NAMED = {"rule": "a/b", "substation": "ASH", "asset_kind": "bus", "asset": "B1"}
ENTRY = {"finding": FINDING, "by": "A. Owner", "reason": "replacement ordered", "until": date(2027, 3, 31)}
HOSTILE = [
    '"quoted" \\ back',
    "=1+1",
    "a\x00b\x1b\x7f",
    "two\nlines",
    "[[waiver]]\nfinding = 1",
    "محطة\u202e",
    "_x0041_",
    "'''",
]


def test_entry_is_read_as_it_is_meant(toml: Callable[..., Path]) -> None:
    path = toml(
        ENTRY | NAMED | {"accepted_on": date(2026, 1, 5), "severity": "high", "actual": 400, "required": "none"}
    )
    (waiver,) = gather_waivers([path]).waivers.values()
    assert (waiver.finding, waiver.by, waiver.reason) == (FINDING, "A. Owner", "replacement ordered")
    assert (waiver.until, waiver.accepted_on) == (date(2027, 3, 31), date(2026, 1, 5))
    assert (waiver.actual, waiver.required, waiver.severity) == (400.0, "none", "high")
    assert waiver.place == "waiver 1, line 1"


def test_finding_may_be_named_by_rule_and_asset_alone(toml: Callable[..., Path]) -> None:
    path = toml(ENTRY | NAMED | {"finding": None})
    assert list(gather_waivers([path]).waivers) == [FINDING]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"untill": "x"}, "waiver 2, line 6: no key `untill`; nearest is `until`"),
        ({"by": None}, "waiver 2, line 6: `by` is not given; expected the name of the person who accepts the finding"),
        ({"by": "  "}, "waiver 2, line 6: `by` is not given; expected the name of the person who accepts the finding"),
        ({"reason": None}, "waiver 2, line 6: `reason` is not given; expected why it is accepted"),
        ({"until": None}, "waiver 2, line 6: `until` is not given; expected the last day on which it is, "
         "such as 2027-03-31"),
        ({"until": "31.3.2027"}, "waiver 2, line 6: `until` is '31.3.2027'; expected a date without "
         "quotes, such as 2027-03-31"),
        ({"by": 7}, "waiver 2, line 6: `by` is 7; expected a text in quotes"),
        ({"severity": "grave"}, "waiver 2, line 6: `severity` is 'grave'; expected high, medium, low"),
        ({"reason": "x" * 4_001}, "waiver 2, line 6: `reason` has 4,001 characters; expected at most 4,000"),
        (
            {"accepted_on": date(2027, 4, 1)},
            "waiver 2, line 6: `until` 2027-03-31 is before `accepted_on` 2027-04-01; one of them is wrong",
        ),
        (
            {"finding": None},
            "waiver 2, line 6: `finding` is not given; expected an identity from findings.csv, or all of rule, "
            "substation, asset_kind, asset (rule, substation, asset_kind, asset not given)",
        ),
        (
            NAMED | {"asset": "B2"},
            f"waiver 2, line 6: `finding` is F2, but rule, substation, asset_kind, asset and item are those of "
            f"{finding_id('a/b', 'ASH', 'bus', 'B2', None)}; correct one, or leave one of the two out",
        ),
        (
            {"finding": FINDING},
            f"waiver 2, line 6: finding {FINDING} is waived twice, first by waiver 1, line 1; keep one of the two",
        ),
    ],
)  # fmt: skip
def test_mistake_is_named_with_its_place(toml: Callable[..., Path], change: dict[str, Any], said: str) -> None:
    path = toml(ENTRY, ENTRY | {"finding": "F2"} | change)
    with pytest.raises(WaiverError) as refusal:
        gather_waivers([path])
    assert str(refusal.value) == f"{path}, {said}"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[[waver]]\n", "no entry `waver`; expected [[waiver]]"),
        ("[waiver]\nby = 'a'\n", "`waiver` is a single table; write [[waiver]] with two brackets"),
        ("[[waiver]]\nuntil = 2027-13-01\n", "cannot be read as TOML (Expected newline or"),
        ("[[waiver]\n", "cannot be read as TOML ("),
    ],
)
def test_file_that_is_no_waiver_file_is_refused(tmp_path: Path, text: str, said: str) -> None:
    path = tmp_path / "own.toml"
    path.write_text(text)
    with pytest.raises(WaiverError) as refusal:
        gather_waivers([path])
    assert str(refusal.value).startswith(f"{path}: {said[:40]}")


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("none.toml", "cannot be read (no such file or directory)"),
        ("none.xlsx", "cannot be read (no such file or directory)"),
        ("none.csv", "of no kind that holds waivers; expected a .toml file or an exceptions.xlsx of an audit"),
    ],
)
def test_file_that_is_not_there_is_named(tmp_path: Path, name: str, said: str) -> None:
    with pytest.raises(WaiverError) as refusal:
        gather_waivers([tmp_path / name])
    assert str(refusal.value) == f"{tmp_path / name}: {said}"


def test_order_of_writing_does_not_hang_on_the_order_of_taking() -> None:
    def made(substation: str, asset: str, finding: str) -> Waiver:
        named = {"rule": "a/b", "substation": substation, "asset_kind": "bus", "asset": asset}
        return Waiver(finding, "A", "why", date(2027, 3, 31), **named)

    waivers = [made("ELM", "B1", "F1"), made("ASH", "B2", "F2"), made("ASH", "B1", "F3")]
    text = waivers_text(waivers)
    assert text == waivers_text(reversed(waivers))
    assert [entry["finding"] for entry in tomllib.loads(text)["waiver"]] == ["F3", "F2", "F1"]


def test_one_more_waiver_changes_no_line_of_the_others() -> None:
    one, two = (Waiver(f"F{n}", "A", "why", date(2027, 3, 31), substation=f"S{n}") for n in (1, 2))
    assert set(waivers_text([two]).splitlines()) <= set(waivers_text([one, two]).splitlines())


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_comes_back_from_the_file(tmp_path: Path, text: str) -> None:
    named = {"rule": "a/b", "substation": text, "asset_kind": "bus", "asset": text, "item": text}
    identity = finding_id("a/b", text, "bus", text, text)
    written = Waiver(identity, "A", text, date(2027, 3, 31), **named, actual=text, required=float("inf"))
    path = tmp_path / "waivers.toml"
    path.write_text(waivers_text([written]), encoding="utf-8")
    (read,) = gather_waivers([path]).waivers.values()
    assert (read.mark, read.reason, read.asset, read.actual, read.required) == (
        *(written.mark, text, text, text),
        float("inf"),
    )
