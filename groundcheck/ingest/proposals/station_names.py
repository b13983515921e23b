"""Stations whose names differ only in writing: proposed as one, for a person to confirm, never joined."""

from groundcheck.ingest.assets.station_proposals import propose_same_stations
from groundcheck.ingest.mapping.feeds import Feed, Layout
from groundcheck.ingest.proposals.known_tags import column_of
from groundcheck.ingest.sheets import Sheet, cell_text
from groundcheck.ingest.toml_text import quoted


def note_station_names(tables: list[tuple[Sheet, Layout]]) -> list[str]:
    """Commented lines for [same_station]: each name that may be another's, with what speaks for it."""
    counts: dict[str, int] = {}
    recorded: dict[str, None] = {}
    titles: dict[str, str] = {}
    for sheet, layout in tables:
        for feed in layout.feeds[:1]:
            names = _texts(sheet, layout, feed, "substation")
            for name in filter(None, names):
                counts[name] = counts.get(name, 0) + 1
            if feed.table == "substation":
                recorded |= dict.fromkeys(filter(None, names))
                both = zip(names, _texts(sheet, layout, feed, "name"), strict=True)
                titles |= {name: title for name, title in both if name and title and name != title}
    lines = [
        f"# {quoted(pair.found)} = {quoted(pair.meant)}  "
        f"# {pair.why}: {counts[pair.found]:,} rows and {counts[pair.meant]:,}"
        for pair in propose_same_stations(counts, recorded, titles)
    ]
    return ["\n# [same_station]", *lines] if lines else []


def _texts(sheet: Sheet, layout: Layout, feed: Feed, name: str) -> list[str]:
    """The cells of a field as text without blanks around it; blank where no one column gives the field."""
    column, body = column_of(feed.fields, name), layout.region.body
    if column is None or column >= sheet.width:
        return [""] * len(body)
    return [(cell_text(cell) or "").strip() for cell in sheet.columns[column][body.start : body.stop]]
