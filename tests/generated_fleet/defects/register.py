"""The register of defects: each a careless record, or careless plant, that one rule must find."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from generated_fleet.station import Rows

Row = dict[str, Any]
Change = Callable[[Rows, np.random.Generator], Rows | None]


@dataclass(frozen=True)
class Defect:
    """
    A change to a sound station's records.

    rule : the rule that must find it. also : other rules that may find something in its wake, with the reason.
    """

    rule: str
    name: str
    change: Change
    also: dict[str, str] = field(default_factory=dict)


DEFECTS: list[Defect] = []


def defect(rule: str, **also: str) -> Callable[[Change], Change]:
    """Register a function under its rule; further rules are named with two underscores for the slash."""

    def register(change: Change) -> Change:
        reasons = {name.replace("__", "/").replace("_", "-"): reason for name, reason in also.items()}
        DEFECTS.append(Defect(rule, change.__name__, change, reasons))
        return change

    return register


def those(rows: Rows, table: str, **like: Any) -> list[Row]:
    """Records of a table whose fields are, or are among, these."""

    def matches(row: Row) -> bool:
        return all(row.get(name) in (want if isinstance(want, tuple) else (want,)) for name, want in like.items())

    return [row for row in rows.get(table, []) if matches(row)]


def one(rows: Rows, rng: np.random.Generator, table: str, **like: Any) -> Row | None:
    """One of them, or none."""
    found = those(rows, table, **like)
    return found[int(rng.integers(len(found)))] if found else None


def changed(rows: Rows, row: Row | None, **fields: Any) -> Rows | None:
    """The record with other values; None stays None: there is no such record here."""
    if row is None:
        return None
    row |= fields
    return rows


def scaled(rows: Rows, row: Row | None, field: str, times: float) -> Rows | None:
    """The record with one value so many times, to five digits; None stays None."""
    return None if row is None else changed(rows, row, **{field: float(f"{row[field] * times:.5g}")})


def bus_of(rows: Rows, tag: str) -> Row:
    """The record of a bus."""
    return those(rows, "bus", bus=tag)[0]


def strike(rows: Rows, table: str, row: Row | None) -> Rows | None:
    """Leave a record out, with the straps, inspections and relays that name it."""
    if row is None:
        return None
    tag = row[table]
    rows[table] = [each for each in rows[table] if each is not row]
    for relay in those(rows, "ground_relay", measures=tag):
        strike(rows, "ground_relay", relay)
    for other, name in (("bond", "equipment"), ("inspection", "asset"), ("secondary_circuit", "instrument_transformer"),
                        ("ground_detector", "instrument_transformer")):  # fmt: skip
        rows[other] = [each for each in rows.get(other, []) if each.get(name) != tag]
    for relay in those(rows, "ground_relay", backs_up=tag):
        relay["backs_up"] = None
    rows["ground_detector"] = [d for d in rows["ground_detector"] if d.get("relay") != tag]
    return rows


def heavy(rows: Rows, kv: float = 60.0) -> bool:
    """Whether the station has an effectively grounded bus above this voltage: ground faults of thousands of amperes."""
    return any(bus["nominal_voltage"] > kv for bus in those(rows, "bus", declared_grounding="effective"))
