"""Comments under an entry: what the aliases settle, what a person must settle, what feeds nothing."""

from groundcheck.ingest.mapping.headings import Match, normalize, table_columns
from groundcheck.ingest.proposals.proposal import Proposal
from groundcheck.ingest.tables.heading_questions import answer_line
from groundcheck.ingest.toml_text import quoted
from groundcheck.ingest.values import read_column

_MOST_WORDS = 5
_SHOWN = 6


def note_headings(proposal: Proposal) -> None:
    """Write the comments; to be called when the proposal's layout is the one that its entry gives."""
    notes = [*_by_alias(proposal), *proposal.comments, *_open_words(proposal)]
    nothing: list[str] = []
    for column, match in proposal.layout.left.items():
        heading = proposal.headings[column]
        if match.how == "ambiguous":
            notes += _ambiguous(proposal, column, match)
        elif column not in proposal.fed:
            near = f" (nearest {', '.join(match.candidates)})" if match.candidates else ""
            nothing.append(f"{' '.join(heading.split())}{near}")
    proposal.notes = [*notes, *([f"# feeds nothing: {', '.join(nothing)}"] if nothing else [])]


def _by_alias(proposal: Proposal) -> list[str]:
    primary = proposal.layout.feeds[0].table if proposal.layout.feeds else proposal.feed.table
    told = []
    for feed in proposal.layout.feeds or [proposal.feed]:
        for name, source in feed.fields.items():
            if source.how != "alias" or (feed.table != primary and name == "substation"):
                continue
            heading = " ".join(proposal.headings[source.columns[0]].split())
            field = name if feed.table == primary else f"{feed.table}.{name}"
            told.append(heading if normalize(heading) == normalize(field) else f"{heading} -> {field}")
    return [f"# by alias: {', '.join(told)}"] if told else []


def _ambiguous(proposal: Proposal, column: int, match: Match) -> list[str]:
    """The line for the first candidate, with the others beside it."""
    first, *others = match.candidates
    line = answer_line(first, column, proposal.layout, proposal.sheet)
    why = f"ambiguous: {' or '.join([first, *others])}" if others else "ambiguous: another column fits as well"
    return [f"# {text}  # {why}" for text in line.splitlines()]


def _open_words(proposal: Proposal) -> list[str]:
    """Words that no vocabulary knows, each as a line to complete."""
    notes = []
    feed = proposal.layout.feeds[0] if proposal.layout.feeds else proposal.feed
    for name, source in feed.fields.items():
        facts = table_columns(feed.table)[name]
        if facts.kind != "choice" or source.kind != "heading":
            continue
        cells = proposal.cells(source.columns[0])
        unknown: dict[str, int] = {}
        for index in read_column(cells, facts).problems:
            word = str(cells[index]).strip()
            unknown[word] = unknown.get(word, 0) + 1
        accepted = list(facts.accepted or ())
        more = f", ... ({len(accepted)} words)" if len(accepted) > _SHOWN else ""
        known = ", ".join(accepted[:_SHOWN]) + more
        most = sorted(unknown.items(), key=lambda item: -item[1])
        notes += [
            f"# words.{name} = {{ {quoted(word)} = ... }}  # in {count:,} rows; one of {known}"
            for word, count in most[:_MOST_WORDS]
        ]
        if len(most) > _MOST_WORDS:
            notes.append(f"# words.{name}: {len(most) - _MOST_WORDS} more words that are not known")
    return notes
