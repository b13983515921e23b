"""Kinds of column, and the wrappers that put a column's unit, limits and headings into its model."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import pandera.pandas as pa
from pandera.engines.pandas_engine import DateTime

KINDS = (
    "text",
    "key",
    "reference",
    "references",
    "choice",
    "vector_group",
    "quantity",
    "size",
    "count",
    "yes_no",
    "date",
    "places",
)


# What a filled cell looks like where the kind says enough; every other column of the inventory names its own.
EXAMPLES = {"vector_group": "YNyn0d11", "size": "70 mm2", "yes_no": "yes", "date": "2024-03-31", "reference": "B11"}


class Day(DateTime):
    """A calendar date as pandas keeps one."""


@dataclass(frozen=True)
class Column:
    """All that is known of one column; the single place for each of these facts."""

    name: str
    kind: str
    description: str
    unit: str | None = None
    aliases: tuple[str, ...] = ()
    accepted: Mapping[str, tuple[str, ...]] | None = None
    ge: float | None = None
    gt: float | None = None
    le: float | None = None
    required: bool = False
    refers_to: tuple[str, ...] = ()
    example: str | None = None

    @property
    def limits(self) -> str:
        """The physical limits in words, empty if there are none."""
        parts = []
        if self.gt is not None:
            parts.append(f"above {self.gt:g}")
        if self.ge is not None:
            parts.append(f"{self.ge:g} or more")
        if self.le is not None:
            parts.append(f"at most {self.le:g}")
        return ", ".join(parts)


def _field(kind: str, description: str, *, required: bool = False, example: str | None = None, **facts: Any) -> Any:
    checks = {name: facts[name] for name in ("ge", "gt", "le") if facts.get(name) is not None}
    accepted = facts.get("accepted")
    if accepted is not None:
        checks["isin"] = list(accepted)
    example = example or EXAMPLES.get(kind) or next(iter(accepted or ()), None)
    spec = {"kind": kind, "description": description, "required": required, "example": example, **facts}
    return pa.Field(nullable=not required, description=description, metadata={"column": spec}, **checks)


def headings(*texts: str) -> tuple[str, ...]:
    """Headings from texts in which semicolons part them."""
    return tuple(heading.strip() for text in texts for heading in text.split(";"))


def key(description: str, *aliases: str, example: str | None = None) -> Any:
    """A tag that identifies the row in its station: required."""
    return _field("key", description, required=True, example=example, aliases=aliases)


def text(description: str, *aliases: str, example: str | None = None) -> Any:
    """Free text."""
    return _field("text", description, example=example, aliases=aliases)


def reference(
    description: str, refers_to: tuple[str, ...], *aliases: str, required: bool = False, example: str | None = None
) -> Any:
    """The tag of another asset, of this station or written STATION:TAG."""
    facts = {"refers_to": refers_to, "aliases": aliases}
    return _field("reference", description, required=required, example=example, **facts)


def references(
    description: str, refers_to: tuple[str, ...], *aliases: str, required: bool = False, example: str | None = None
) -> Any:
    """The tags of one or several other assets."""
    facts = {"refers_to": refers_to, "aliases": aliases}
    return _field("references", description, required=required, example=example, **facts)


def choice(
    description: str,
    accepted: Mapping[str, tuple[str, ...]],
    *aliases: str,
    required: bool = False,
    example: str | None = None,
) -> Any:
    """One word of a vocabulary; the vocabulary gives the other spellings of each word."""
    return _field("choice", description, required=required, example=example, accepted=accepted, aliases=aliases)


def vector_group(description: str, *aliases: str, required: bool = False) -> Any:
    """A vector group in the notation of IEC 60076-1."""
    return _field("vector_group", description, required=required, aliases=aliases)


def quantity(
    description: str,
    unit: str | None,
    *aliases: str,
    required: bool = False,
    ge: float | None = None,
    gt: float | None = None,
    le: float | None = None,
    example: str | None = None,
) -> Any:
    """A number in the unit given; a duration may be infinite (continuous)."""
    facts = {"unit": unit, "ge": ge, "gt": gt, "le": le, "aliases": aliases}
    return _field("quantity", description, required=required, example=example, **facts)


def size(description: str, *aliases: str, example: str | None = None) -> Any:
    """A conductor size, kept as area in mm2; read as AWG, kcmil, mm2 or the sides of a bar."""
    return _field("size", description, example=example, unit="mm2", gt=0, aliases=aliases)


def count(
    description: str, *aliases: str, ge: float | None = 0, le: float | None = None, example: str | None = None
) -> Any:
    """A whole number."""
    return _field("count", description, example=example, ge=ge, le=le, aliases=aliases)


def yes_no(description: str, *aliases: str) -> Any:
    """True or false."""
    return _field("yes_no", description, aliases=aliases)


def date(description: str, *aliases: str) -> Any:
    """A calendar date."""
    return _field("date", description, aliases=aliases)


def places(description: str, *aliases: str, example: str | None = None) -> Any:
    """A list of places; empty means that there are none, blank that nobody has said."""
    return _field("places", description, example=example, aliases=aliases)
