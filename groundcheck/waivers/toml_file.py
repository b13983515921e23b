"""The waiver file: TOML that the owner keeps under version control, read with care and written in a fixed order."""

import math
import re
import tomllib
from collections.abc import Iterable
from datetime import date, datetime
from pathlib import Path
from typing import Any

import tomli_w

from groundcheck.errors import WaiverError
from groundcheck.nearest import nearest
from groundcheck.waivers.waiver import NAME_LIMIT, REASON_LIMIT, SUBJECT, Waiver, identity_of

HEAD = """\
# Findings accepted, each by a person, for a reason, until a date; on that date the waiver still holds.
# `groundcheck waivers` writes this file anew when it merges; of what is not a key of an entry it keeps nothing.
"""
# Keys of an entry in the order in which they are written, and what each holds.
TEXTS = ("rule", "substation", "asset_kind", "asset", "item")
KEYS = {
    "finding": "text",
    **dict.fromkeys(TEXTS, "text"),
    "by": "text",
    "reason": "text",
    "until": "date",
    "accepted_on": "date",
    "severity": "text",
    "actual": "value",
    "required": "value",
    "unit": "text",
}
_REQUIRED = {
    "by": "the name of the person who accepts the finding",
    "reason": "why it is accepted",
    "until": "the last day on which it is, such as 2027-03-31",
}
_SEVERITIES = ("high", "medium", "low")
_ENTRY = re.compile(r"^\s*\[\[\s*(?:waiver|\"waiver\"|'waiver')\s*\]\]")


def read_waiver_file(path: Path) -> list[Waiver]:
    """
    The entries of a waiver file.

    Raises
    ------
    WaiverError
        It can't be read; an entry has an unknown key, lacks one, or holds what the key can't; two are of one finding.
    """
    try:
        text = path.read_bytes().decode("utf-8-sig")
        tree = tomllib.loads(text)
    except OSError as error:
        raise WaiverError(f"{path}: cannot be read ({(error.strerror or 'unknown reason').lower()})") from error
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise WaiverError(f"{path}: cannot be read as TOML ({error})") from error
    for key in tree:
        if key != "waiver":
            raise WaiverError(f"{path}: no entry `{key}`; expected [[waiver]]")
    entries = tree.get("waiver", [])
    if not isinstance(entries, list) or any(not isinstance(entry, dict) for entry in entries):
        raise WaiverError(f"{path}: `waiver` is a single table; write [[waiver]] with two brackets")
    return _read_entries(path, entries, _lines_of_entries(text, len(entries)))


def _read_entries(path: Path, entries: list[dict[str, Any]], lines: list[int]) -> list[Waiver]:
    read: dict[str, Waiver] = {}
    for number, entry in enumerate(entries, 1):
        place = f"waiver {number}" + (f", line {lines[number - 1]}" if lines else "")
        waiver = _read_entry(entry, str(path), place)
        if waiver.finding in read:
            raise WaiverError(
                f"{path}, {place}: finding {waiver.finding} is waived twice, first by {read[waiver.finding].place}; "
                "keep one of the two"
            )
        read[waiver.finding] = waiver
    return list(read.values())


def _lines_of_entries(text: str, entries: int) -> list[int]:
    """The line of each entry; none where lines and entries do not match, as with headings inside long texts."""
    lines = [number for number, line in enumerate(text.splitlines(), 1) if _ENTRY.match(line)]
    return lines if len(lines) == entries else []


def _read_entry(entry: dict[str, Any], path: str, place: str) -> Waiver:
    where = f"{path}, {place}"
    for key in entry:
        if key not in KEYS:
            raise WaiverError(f"{where}: no key `{key}`; nearest is `{nearest(key, KEYS)}`")
    facts = {key: _value(value, key, where) for key, value in entry.items()}
    facts["finding"] = facts.get("finding") or _identity(facts, where)
    for key, meaning in _REQUIRED.items():
        if not facts.get(key):
            raise WaiverError(f"{where}: `{key}` is not given; expected {meaning}")
    for key, limit in (("by", NAME_LIMIT), ("reason", REASON_LIMIT)):
        if len(facts[key]) > limit:
            raise WaiverError(f"{where}: `{key}` has {len(facts[key]):,} characters; expected at most {limit:,}")
    if (severity := facts.get("severity")) and severity not in _SEVERITIES:
        raise WaiverError(f"{where}: `severity` is '{severity}'; expected {', '.join(_SEVERITIES)}")
    accepted_on = facts.get("accepted_on")
    if accepted_on and facts["until"] < accepted_on:
        raise WaiverError(
            f"{where}: `until` {facts['until']} is before `accepted_on` {accepted_on}; one of them is wrong"
        )
    expected = identity_of(facts)
    if expected is not None and expected != facts["finding"]:
        raise WaiverError(
            f"{where}: `finding` is {facts['finding']}, but rule, substation, asset_kind, asset and item are those of "
            f"{expected}; correct one, or leave one of the two out"
        )
    return Waiver(**facts, source=path, place=place)


def _identity(facts: dict[str, Any], where: str) -> str:
    """The identity that a finding so named has."""
    identity = identity_of(facts)
    if identity is None:
        missing = [name for name in SUBJECT if not facts.get(name)]
        raise WaiverError(
            f"{where}: `finding` is not given; expected an identity from findings.csv, or all of "
            f"{', '.join(SUBJECT)} ({', '.join(missing)} not given)"
        )
    return identity


def _value(value: Any, key: str, where: str) -> Any:
    kind = KEYS[key]
    if kind == "date":
        if isinstance(value, date) and not isinstance(value, datetime):
            return value
        raise WaiverError(f"{where}: `{key}` is {value!r}; expected a date without quotes, such as 2027-03-31")
    if isinstance(value, str):
        return (value if key in (*TEXTS, "actual", "required") else value.strip()) or None
    if kind == "value" and isinstance(value, int | float) and not isinstance(value, bool) and not math.isnan(value):
        return float(value)
    expected = "a number, or a text in quotes" if kind == "value" else "a text in quotes"
    raise WaiverError(f"{where}: `{key}` is {value!r}; expected {expected}")


def waivers_text(waivers: Iterable[Waiver]) -> str:
    """The waiver file, sorted by station, asset and rule, so that a change of one waiver changes its own lines only."""
    entries = [
        {key: value for key in KEYS if (value := getattr(waiver, key)) is not None}
        for waiver in sorted(waivers, key=_in_order)
    ]
    return HEAD + "".join("\n[[waiver]]\n" + tomli_w.dumps(entry) for entry in entries)


def _in_order(waiver: Waiver) -> tuple[str, ...]:
    named = (waiver.substation, waiver.asset_kind, waiver.asset, waiver.item, waiver.rule)
    return (*(text or "" for text in named), waiver.finding)
