"""Sheets of several files with the same headings: one entry for all, and the patterns that fit them and no others."""

from itertools import takewhile

from groundcheck.ingest.mapping.column_map import SheetMap
from groundcheck.ingest.proposals.proposal import Proposal
from groundcheck.ingest.sheets import Sheet

_LISTED = 3  # names: up to these are listed, more are caught by a pattern where one fits


def group_proposals(proposals: list[Proposal]) -> list[list[Proposal]]:
    """The proposals that may share an entry, in the order of the sheets."""
    groups: dict[tuple[object, ...], list[Proposal]] = {}
    for proposal in proposals:
        groups.setdefault(proposal.same_entry(), []).append(proposal)
    return list(groups.values())


def patterns_for(labels: list[str], others: list[Sheet]) -> list[str]:
    """Patterns that fit the labels and none of the other sheets: the names themselves, or one that catches many."""
    if len(labels) > _LISTED:
        start = _beginning(labels)
        end = _beginning([label[::-1] for label in labels])[::-1]
        shortest = min(map(len, labels))
        for before, after in ((start, end[max(len(start) + len(end) - shortest, 0) :]), (start, ""), ("", end)):
            pattern = f"{_exact(before)}*{_exact(after)}"
            if before + after and not any(SheetMap("", (pattern,)).fits_name(other) for other in others):
                return [pattern]
    return [_exact(label) for label in labels]


def _exact(label: str) -> str:
    """A pattern that fits just this text."""
    return label.replace("[", "[[]").replace("*", "[*]").replace("?", "[?]")


def _beginning(texts: list[str]) -> str:
    """The letters with which all texts begin."""
    return "".join(letters[0] for letters in takewhile(lambda same: len(set(same)) == 1, zip(*texts, strict=False)))
