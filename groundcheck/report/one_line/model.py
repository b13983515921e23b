"""What a drawing shows: buses, what joins them, what hangs on them, neutrals, relays, findings."""

from dataclasses import dataclass, field

from groundcheck.report.one_line.findings import Findings, Row


@dataclass
class Zone:
    """A galvanic zone of the station; `position` numbers it in this drawing."""

    name: str
    position: int
    grounding_class: str | None


@dataclass
class Bus:
    """A bus, or a place that a record names and no record describes (`note` says so)."""

    key: str
    tag: str
    row: Row
    kv: float | None
    zone: Zone | None = None
    fault: Row | None = None
    note: str | None = None
    tier: int = 0
    rank: int = 0


@dataclass
class Device:
    """What stands in a neutral; where several neutrals share it, it is drawn at the first."""

    row: Row
    tag: str
    first: bool
    others: tuple[str, ...] = ()


@dataclass
class Neutral:
    """A neutral: brought out (None: not known), what stands in it, what the study took it for."""

    brought_out: bool | None
    devices: list[Device] = field(default_factory=list)
    taken_as: str | None = None


@dataclass
class Winding:
    """One winding of a transformer and its neutral."""

    name: str
    bus: Bus | None
    connection: str | None
    kv: float | None
    neutral: Neutral


@dataclass
class Unit:
    """A transformer: upper winding, lower winding, third winding."""

    row: Row
    upper: Winding
    lower: Winding
    third: Winding | None
    auto: bool


@dataclass
class Join:
    """A switch, or a line between two buses of this station."""

    kind: str
    row: Row
    a: Bus
    b: Bus


@dataclass
class Model:
    """A station as it is drawn."""

    code: str
    name: str
    findings: Findings
    zones: list[Zone]
    buses: list[Bus]
    units: list[Unit]
    joins: list[Join]
    hanging: dict[str, list[tuple[str, Row]]]  # by key of a bus: kind and row
    neutrals: dict[tuple[str, str], Neutral]  # of generators and grounding transformers
    relays: dict[tuple[str, str], list[Row]]
    detectors: dict[str, list[Row]]  # by tag of a voltage transformer
    loose: list[tuple[str, Row, str]]
    grids: list[Row]
    not_in_service: list[tuple[str, str]]
