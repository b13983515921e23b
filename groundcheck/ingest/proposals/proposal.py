"""What is proposed for one table of a sheet, before it is written."""

from dataclasses import dataclass, field

from groundcheck.ingest.mapping.feeds import Feed, Layout
from groundcheck.ingest.mapping.headings import Match, normalize
from groundcheck.ingest.sheets import Sheet, is_blank


@dataclass(frozen=True)
class Line:
    """One line of an entry and what speaks for it."""

    text: str
    why: str

    def written(self) -> str:
        """As it stands in the file."""
        return f"{self.text}  # {self.why}"


@dataclass
class Proposal:
    """
    An entry for one table of a sheet.

    `feed` and `left` are what the headings give by themselves, `layout` what they give with the entry; `beside` are
    other tables of the same sheet.
    """

    sheet: Sheet
    label: str
    layout: Layout
    feed: Feed
    left: dict[int, Match]
    settings: list[Line] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    comments: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    fed: set[int] = field(default_factory=set)
    beside: list[Layout] = field(default_factory=list)

    @property
    def headings(self) -> dict[int, str]:
        """The headings of the table."""
        return self.layout.region.headings

    @property
    def given(self) -> set[str]:
        """The fields that the headings or the lines so far feed."""
        return set(self.feed.fields) | {line.text.split(" =")[0].removeprefix("fields.") for line in self.lines}

    @property
    def own_headings(self) -> list[str]:
        """Headings that tell the table from the others of its sheet; none where it stands alone."""
        others = {normalize(heading) for layout in self.beside for heading in layout.region.headings.values()}
        own = [heading for heading in self.headings.values() if normalize(heading) not in others]
        return own[:2] if self.beside else []

    def same_entry(self) -> tuple[object, ...]:
        """What two tables have in common that may share an entry."""
        headings = tuple(normalize(heading) for _, heading in sorted(self.headings.items()))
        settled = tuple(line.text for line in (*self.settings, *self.lines))
        return self.feed.table, headings, settled, self.label if self.beside else None

    def cells(self, column: int) -> list[object]:
        """The filled cells under a heading."""
        body = self.layout.region.body
        cells = self.sheet.columns[column] if column < self.sheet.width else ()
        return [cell for cell in cells[body.start : body.stop] if not is_blank(cell)]
