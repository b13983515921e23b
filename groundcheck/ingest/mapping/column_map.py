"""The column map: a person's word on which column feeds which field, and on how its sheets are to be read."""

from dataclasses import dataclass, field
from fnmatch import fnmatchcase
from typing import Any

from groundcheck.ingest.mapping.headings import normalize
from groundcheck.ingest.sheets import Sheet


@dataclass(frozen=True)
class FieldSource:
    """The headings that make one field, and how: heading, part, join, pattern, or rx (r and x)."""

    kind: str
    headings: tuple[str, ...]
    detail: str = ""


@dataclass
class SheetMap:
    """One [[sheet]] entry; None where it does not say."""

    where: str
    match: tuple[str, ...] = ()
    headings: tuple[str, ...] = ()
    table: str | None = None
    fields: dict[str, FieldSource] = field(default_factory=dict)
    units: dict[str, str] = field(default_factory=dict)
    words: dict[str, dict[str, str]] = field(default_factory=dict)
    constants: dict[str, Any] = field(default_factory=dict)
    carry_down: tuple[str, ...] = ()
    bus_station: str | None = None
    impedance_base: float | None = None
    kinds_column: str | None = None
    kinds: dict[str, str] = field(default_factory=dict)
    day_first: bool | None = None
    decimal_comma: bool | None = None
    frequency: float | None = None
    turned: bool | None = None
    heading_row: int | None = None
    skip: bool = False
    used: bool = False

    def fits_name(self, sheet: Sheet) -> bool:
        """Whether the entry may be for this sheet by its name."""
        name = sheet.file.rsplit("/", 1)[-1]
        targets = (sheet.file, name, sheet.label, f"{name}::{sheet.name}")
        return not self.match or any(fnmatchcase(target, pattern) for target in targets for pattern in self.match)

    def named_headings(self) -> frozenset[str]:
        """Every heading that the entry names, normalized."""
        named = [heading for source in self.fields.values() for heading in source.headings]
        named += [self.kinds_column] if self.kinds_column is not None else []
        return frozenset({normalize(heading) for heading in (*named, *self.headings)} | self.units.keys())

    def feeds(self) -> bool:
        """Whether the entry says what feeds the inventory; otherwise it says only how to read."""
        return self.table is not None or self.kinds_column is not None


@dataclass(frozen=True)
class ReadingHabits:
    """How the cells of a sheet are written, as far as the column map says."""

    day_first: bool | None = None
    decimal_comma: bool | None = None
    frequency: float | None = None


@dataclass
class ColumnMap:
    """All entries, in the order of the file, with the file's name and hash."""

    name: str = ""
    sha256: str = ""
    size: int = 0
    sheets: list[SheetMap] = field(default_factory=list)
    precedence: tuple[str, ...] = ()
    same_station: dict[str, str] = field(default_factory=dict)
    same_tag: dict[str, str] = field(default_factory=dict)

    def for_sheet(self, sheet: Sheet) -> list[SheetMap]:
        """The entries that may be for this sheet by its name."""
        return [entry for entry in self.sheets if entry.fits_name(sheet)]

    def habits(self, sheet: Sheet, headings: dict[int, str]) -> ReadingHabits:
        """How the cells under these headings are written: the first entry that says so, of those that fit."""
        present = {normalize(heading) for heading in headings.values()}
        fitting = [entry for entry in self.for_sheet(sheet) if entry.named_headings() <= present]

        def said(name: str) -> Any:
            return next((value for e in fitting if (value := getattr(e, name)) is not None), None)

        return ReadingHabits(said("day_first"), said("decimal_comma"), said("frequency"))


def plain_name(name: str) -> str:
    """A station's or an asset's name without case and blanks, as the keys of same_station and same_tag are kept."""
    return "".join(name.casefold().split())
