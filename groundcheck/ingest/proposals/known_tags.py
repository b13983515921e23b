"""The tags that sheets give of each kind of asset, by which a column of unknown heading may be known."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from groundcheck.ingest.mapping.column_map import plain_name
from groundcheck.ingest.mapping.feeds import Layout, Source
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.sheets import Sheet, cell_text
from groundcheck.schema import INVENTORY_TABLES, Column

# Station and tag, both plain; the station is blank where the sheet does not tell it.
Tag = tuple[str, str]
_MOST_KINDS = 3  # a field that refers to more kinds than these takes almost any tag


@dataclass
class KnownTags:
    """Tags by kind of asset."""

    tags: dict[str, set[Tag]] = field(default_factory=dict)

    def add(self, sheet: Sheet, layout: Layout) -> None:
        """Take in the tags of a table: of its own assets, and of those that it refers to."""
        for feed in layout.feeds[:1]:
            stations = plain_cells(sheet, layout, column_of(feed.fields, "substation"))
            for name, source in feed.fields.items():
                kinds = kinds_named(feed.table, name, table_columns(feed.table)[name])
                if len(kinds) == 1 and source.kind == "heading":
                    tags = plain_cells(sheet, layout, source.columns[0])
                    self.tags.setdefault(kinds[0], set()).update(zip(stations, tags, strict=True))

    def share(self, kinds: tuple[str, ...], found: list[Tag]) -> float:
        """The share of tags found that are known for the kinds; a bare number counts only with its station."""
        known = set().union(*(self.tags.get(kind, set()) for kind in kinds))
        anywhere = {tag for _, tag in known if not tag.isdigit()}
        hits = sum(pair in known if pair[0] else pair[1] in anywhere for pair in found)
        return hits / len(found) if found else 0.0


def kinds_named(table: str, name: str, facts: Column) -> tuple[str, ...]:
    """The kinds of asset whose tag may stand in the field; none if it holds no tag, or almost any."""
    if facts.kind == "key":
        return (name,) if name in INVENTORY_TABLES else (table,)
    refers = facts.kind in ("reference", "references") and len(facts.refers_to) <= _MOST_KINDS
    return facts.refers_to if refers else ()


def column_of(fields: Mapping[str, Source], name: str) -> int | None:
    """The one column that gives a field as it stands."""
    source = fields.get(name)
    return source.columns[0] if source is not None and source.kind == "heading" else None


def plain_cells(sheet: Sheet, layout: Layout, column: int | None) -> list[str]:
    """The cells under a heading without case and blanks; blank where there is no such column."""
    body = layout.region.body
    if column is None or column >= sheet.width:
        return [""] * len(body)
    return [plain_name(cell_text(cell) or "") for cell in sheet.columns[column][body.start : body.stop]]
