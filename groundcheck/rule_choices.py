"""What an owner's policy says of single rules: whether they are asked, how severe, with which limits, and where."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fnmatch import fnmatchcase
from typing import Any

import tomli_w

from groundcheck.errors import PolicyError
from groundcheck.nearest import nearest
from groundcheck.schema.stages.audit import SEVERITIES

KEYS = ("name", "asked", "severity", "limits", "districts", "stations", "why")


@dataclass(frozen=True)
class RuleChoice:
    """
    One [[rule]] entry: `name` is a rule, or a subject as in 'mat/*'; `limits` are policy entries that it reads.

    Without districts and stations it holds for the fleet; what is said of a station outranks what is said of its
    district, and that what is said of the fleet; of two entries that reach equally far the later one holds.
    """

    name: str
    asked: bool | None = None
    severity: str | None = None
    limits: Mapping[str, Any] = field(default_factory=dict)
    districts: tuple[str, ...] = ()
    stations: tuple[str, ...] = ()
    why: str = ""

    @property
    def place(self) -> str:
        """Where it holds, in words."""
        named = [f"station {name}" for name in self.stations] + [f"district {name}" for name in self.districts]
        return ", ".join(named) or "the fleet"

    @property
    def words(self) -> str:
        """What it says, in words: 'not asked of district North: mats are surveyed elsewhere'."""
        said = []
        if self.asked is not None:
            said.append("asked of" if self.asked else "not asked of")
        if self.severity is not None:
            said.append(f"severity {self.severity} for")
        if self.limits:
            said.append(", ".join(f"{entry} = {value}" for entry, value in self.limits.items()) + " for")
        return f"{' and '.join(said)} {self.place}" + (f": {self.why}" if self.why else "")


@dataclass(frozen=True)
class Ruling:
    """What holds for one rule at one station."""

    asked: bool = True
    severity: str | None = None
    limits: tuple[tuple[str, Any], ...] = ()


def read_choices(entries: Any, where: str) -> tuple[RuleChoice, ...]:
    """
    The [[rule]] entries of a policy file.

    Raises
    ------
    PolicyError
        An entry is no table, has an unknown key or a value of another kind, or says nothing.
    """
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        raise PolicyError(f"{where}: `rule` is {entries!r}; expected entries that start with [[rule]]")
    return tuple(_read_choice(entry, f"{where}: [[rule]] {number}") for number, entry in enumerate(entries, start=1))


def _read_choice(entry: dict[str, Any], where: str) -> RuleChoice:
    for key in entry:
        if key not in KEYS:
            raise PolicyError(f"{where} has no key `{key}`; nearest is `{nearest(key, KEYS)}`")
    expected = {"name": "a rule's name, or a subject such as 'mat/*'", "why": "a text"}
    for key, words in expected.items():
        if not isinstance(entry.get(key, ""), str):
            raise PolicyError(f"{where}: `{key}` is {entry[key]!r}; expected {words}")
    if not entry.get("name"):
        raise PolicyError(f"{where} has no `name`; expected {expected['name']}")
    if "asked" in entry and not isinstance(entry["asked"], bool):
        raise PolicyError(f"{where}: `asked` is {entry['asked']!r}; expected true or false")
    if "severity" in entry and entry["severity"] not in SEVERITIES:
        raise PolicyError(f"{where}: `severity` is {entry['severity']!r}; expected {' or '.join(SEVERITIES)}")
    for key in ("districts", "stations"):
        names = entry.get(key, [])
        if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
            raise PolicyError(f"{where}: `{key}` is {names!r}; expected a list of names")
    limits = entry.get("limits", {})
    if not isinstance(limits, dict):
        raise PolicyError(
            f'{where}: `limits` is {limits!r}; expected entries of the policy, as in {{ "arrester.margin" = 1.0 }}'
        )
    if "asked" not in entry and "severity" not in entry and not limits:
        raise PolicyError(f"{where} says nothing of {entry['name']}; expected `asked`, `severity` or `limits`")
    places = {key: tuple(entry.get(key, ())) for key in ("districts", "stations")}
    return RuleChoice(**{**entry, **places})


def check_names(choices: Iterable[RuleChoice], known: Mapping[str, Iterable[str]]) -> None:
    """
    Every entry must name a rule that is there, and limits that such a rule reads; `known` has these by rule.

    Raises
    ------
    PolicyError
        One does not; the nearest is given.
    """
    for number, choice in enumerate(choices, start=1):
        where = f"policy: [[rule]] {number}"
        meant = [name for name in known if fnmatchcase(name, choice.name)]
        if not meant:
            near = nearest(choice.name, known)
            hint = f"nearest is `{near}`" if near else "no rulebook holds any"
            raise PolicyError(f"{where} names `{choice.name}`, and there is no such rule; {hint}")
        read = {entry for name in meant for entry in known[name]}
        for entry in choice.limits:
            if entry not in read:
                near = nearest(entry, read)
                hint = f"nearest is `{near}`" if near else "it reads none"
                raise PolicyError(f"{where}: {choice.name} reads no limit `{entry}`; {hint}")


def choices_of(choices: Iterable[RuleChoice], rule: str) -> list[RuleChoice]:
    """The entries that are about a rule."""
    return [choice for choice in choices if fnmatchcase(rule, choice.name)]


def ruling(choices: Iterable[RuleChoice], station: str, district: str | None) -> Ruling:
    """What the entries about one rule come to at one station."""
    asked, severity, limits = True, None, dict[str, Any]()
    for reach in (_of_fleet, _of_district, _of_station):
        for choice in choices:
            if reach(choice, station, district):
                asked = asked if choice.asked is None else choice.asked
                severity = choice.severity or severity
                limits |= choice.limits
    return Ruling(asked, severity, tuple(sorted(limits.items())))


def _of_fleet(choice: RuleChoice, station: str, district: str | None) -> bool:
    return not choice.districts and not choice.stations


def _of_district(choice: RuleChoice, station: str, district: str | None) -> bool:
    return district is not None and district in choice.districts


def _of_station(choice: RuleChoice, station: str, district: str | None) -> bool:
    return station in choice.stations


def places_not_on_record(choices: Iterable[RuleChoice], districts: Mapping[str, str | None]) -> list[str]:
    """A sentence for each district or station that an entry names and no record does; `districts` is by station."""
    known = {"district": sorted({name for name in districts.values() if name}), "station": sorted(districts)}
    sentences = []
    for number, choice in enumerate(choices, start=1):
        for kind, names in (("district", choice.districts), ("station", choice.stations)):
            for name in (name for name in names if name not in known[kind]):
                near = nearest(name, known[kind])
                hint = f"; nearest is {near}" if near else ""
                sentences.append(f"policy: [[rule]] {number} names {kind} {name}, which is not on record{hint}")
    return sentences


def choices_text(choices: Iterable[RuleChoice]) -> str:
    """The entries as TOML."""
    entries = [
        {key: value for key in KEYS if (value := getattr(choice, key)) not in (None, (), "", {})} for choice in choices
    ]
    return "\n" + tomli_w.dumps({"rule": entries}) if entries else ""
