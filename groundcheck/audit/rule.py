"""What a rule is."""

from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True)
class Rule:
    """
    A question asked of every asset to which it applies; see DEVELOPERS.md, 'A rule'.

    `query` is one SELECT over inventory and study that returns a row for each asset asked about, with the columns
    substation, asset_kind, asset, actual, required, unit and ok: TRUE satisfied, FALSE an exception, NULL not
    assessable. It may return more columns for message, working and remedy; one named like the tag column of a table
    (bus, transformer, neutral_device, zone ...) tells which row of that table the inputs were read from, and one named
    `item` tells several questions about one asset apart, such as the winding.

    `asks` is the table asked about, or "zone"; or "record" for answers about assets of any kind, each of which says
    with a column `field` which of its asset's fields it is about. A column `needs` lists the inputs that an answer
    which is not assessable waits for. `always_assessable` is for a rule about the record itself, whose question has no
    third answer: it needs no example that is not assessable.

    `formula` is the calculation in symbols, as a handbook prints it; `working` is the same with the finding's numbers,
    a step a line. Every query may use `$audit_date`, the day as of which the audit is made.
    """

    title: str
    severity: str
    why: str
    basis: str
    asks: str
    inputs: tuple[str, ...]
    query: str
    message: str
    working: str
    remedy: str
    caution: str
    examples: dict[str, dict[str, Any]]
    policy: dict[str, str] = field(default_factory=dict)
    cannot_see: str = ""
    formula: str = ""
    always_assessable: bool = False
