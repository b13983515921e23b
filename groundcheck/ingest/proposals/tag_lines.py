"""A tag for assets whose sheet has no heading that gives one: made of the columns that tell them apart."""

from groundcheck.ingest.proposals.proposal import Line, Proposal
from groundcheck.ingest.sheets import cell_text
from groundcheck.ingest.toml_text import quoted
from groundcheck.schema import INVENTORY_TABLES

# Where a table has no tag of its own, the columns that together tell its assets apart.
_TAG_FROM = {
    "transformer": ("hv_bus", "lv_bus"),
    "line": ("from_bus", "to_bus"),
    "switch": ("bus_a", "bus_b"),
    "bond": ("equipment",),
    "inspection": ("asset", "date"),
    "insulation": ("bus", "kind"),
    "arrester": ("bus",),
    "infeed": ("bus",),
    "generator": ("bus",),
    "neutral_device": ("connected_to",),
    "grounding_transformer": ("bus",),
    "ground_relay": ("measures", "function"),
    "ground_detector": ("bus",),
    "ground_grid": ("substation",),
    "instrument_transformer": ("bus", "kind"),
    "secondary_circuit": ("instrument_transformer",),
}


def propose_tag(proposal: Proposal) -> None:
    """Add the line that makes a tag, with how many rows it tells apart; a comment where nothing can."""
    feed = proposal.feed
    tag = INVENTORY_TABLES[feed.table].asset_column()
    named = [feed.fields[name].columns[0] for name in _TAG_FROM.get(feed.table, ()) if name in feed.fields]
    if not named:
        proposal.comments.append(f"# fields.{tag} = ...  # no heading gives the tag: name the column")
        return
    headings = [quoted(proposal.headings[column]) for column in named]
    source = headings[0] if len(named) == 1 else f'{{ join = [{", ".join(headings)}], with = " - " }}'
    station = [feed.fields["substation"].columns[0]] if "substation" in feed.fields else []
    apart, rows = _told_apart(proposal, [*station, *named])
    why = f"{apart / rows if rows else 0:.2f}: no heading gives a tag; these tell {apart:,} of {rows:,} rows apart"
    proposal.lines.append(Line(f"fields.{tag} = {source}", why))


def _told_apart(proposal: Proposal, columns: list[int]) -> tuple[int, int]:
    body = proposal.layout.region.body
    rows = proposal.sheet.rows[body.start : body.stop]
    found = [tuple(cell_text(row[c]) if c < len(row) else None for c in columns) for row in rows]
    whole = [row for row in found if all(row)]
    return len(set(whole)), len(whole)
