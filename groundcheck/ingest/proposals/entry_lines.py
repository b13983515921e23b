"""The lines of one entry: what the headings leave open, each with how sure it is and why."""

from groundcheck.ingest.mapping.feeds import lacks_tag
from groundcheck.ingest.mapping.headings import aliases, normalize
from groundcheck.ingest.proposals.cell_evidence import propose_by_cells
from groundcheck.ingest.proposals.impedance_columns import find_impedances
from groundcheck.ingest.proposals.known_tags import KnownTags
from groundcheck.ingest.proposals.proposal import Line, Proposal
from groundcheck.ingest.proposals.station_codes import find_station_code
from groundcheck.ingest.proposals.tag_lines import propose_tag
from groundcheck.ingest.tables.heading_questions import answer_line
from groundcheck.ingest.toml_text import quoted
from groundcheck.nearest import nearest


def fill_entry(proposal: Proposal, containers: frozenset[str], known: KnownTags) -> None:
    """Write into the proposal every line that it needs."""
    feed, region = proposal.feed, proposal.layout.region
    if lacks_tag(feed):
        propose_tag(proposal)
    if "substation" not in feed.fields:
        code = find_station_code(proposal.sheet, region, feed, containers)
        if code is not None:
            within = f", within = {quoted(code.within)}" if code.within else ""
            text = f"from = {quoted(code.heading)}, pattern = {quoted(code.pattern)}{within}"
            proposal.lines.append(Line(f"fields.substation = {{ {text} }}", code.why))
            why = "a bus with another code stands in another station"
            proposal.settings.append(Line(f"bus_station = {quoted(code.pattern)}", why))
    impedances = find_impedances(proposal.sheet, region, feed)
    if impedances is not None:
        if impedances.on_common_base:
            proposal.settings.append(Line("impedance_base = 100", impedances.why))
        proposal.lines += [Line(f"fields.{name} = {text}", why) for name, (text, why) in impedances.fields.items()]
        proposal.fed |= impedances.columns
    for name, source in feed.fields.items():
        if source.how == "close match":
            heading = proposal.headings[source.columns[0]]
            like = nearest(normalize(heading), [alias for alias, field in aliases(feed.table).items() if field == name])
            why = f'{source.certainty:.2f}: spelled nearly like "{like}"'
            proposal.lines.append(Line(answer_line(name, source.columns[0], proposal.layout, proposal.sheet), why))
    propose_by_cells(proposal, known)
