"""Words of a vocabulary, and yes or no."""

import re
from functools import cache
from typing import NamedTuple

from rapidfuzz import fuzz, process

from groundcheck.ingest.values.cell_text import says_none, says_nothing, tidy
from groundcheck.ingest.values.reading import BLANK, Habits, Problem, Reading, ambiguous, unreadable
from groundcheck.ingest.values.wanted import wanted
from groundcheck.schema import Column

_AND = re.compile(r"\s*(?:\+|&|\band\b)\s*")
_PUNCTUATION = re.compile(r"[^\w+]+|_+")
_NEGATION = re.compile(r"\b(?:un|non|not|no|dis|de|in)")
_DIGITS = re.compile(r"\d+")
CLOSE_MATCH = 92

# In English, German, Dutch, French, Spanish, Italian and Portuguese. A crossed box can be either, and is not here.
_YES = frozenset(
    {
        *("y", "yes", "true", "t", "1", "x", "✓", "✔", "☑", "√", "✅", "j", "ja", "oui", "si", "sí", "sì", "sim", "ok"),
        *("connected", "bonded", "fitted", "grounded", "earthed", "present", "provided", "installed", "in place"),
    }
)
_NO = frozenset(
    {
        *("n", "no", "false", "f", "0", "✗", "✘", "❌", "☐", "nein", "nee", "non", "não", "nao"),
        *("disconnected", "unconnected", "unbonded", "ungrounded", "unearthed", "absent"),
        *("not connected", "not bonded", "not fitted", "not grounded", "not earthed"),
        *("not present", "not provided", "not installed", "not in place"),
    }
)


class Vocabulary(NamedTuple):
    """Every spelling of a vocabulary with the words it stands for."""

    spaced: dict[str, frozenset[str]]
    compact: dict[str, frozenset[str]]


def normal_words(text: str) -> str:
    """A tidy text in lower case, its punctuation as single spaces, '&' and 'and' as '+'."""
    return " ".join(_PUNCTUATION.sub(" ", _AND.sub(" + ", text.casefold())).split())


@cache
def _vocabulary(accepted: tuple[tuple[str, tuple[str, ...]], ...]) -> Vocabulary:
    spaced: dict[str, frozenset[str]] = {}
    for word, synonyms in accepted:
        for synonym in synonyms:
            normal = normal_words(synonym)
            spaced[normal] = spaced.get(normal, frozenset()) | {word}
    spaced |= {normal_words(word): frozenset({word}) for word, _ in accepted}
    compact: dict[str, frozenset[str]] = {}
    for normal, words in spaced.items():
        key = normal.replace(" ", "")
        compact[key] = compact.get(key, frozenset()) | words
    return Vocabulary(spaced, compact)


def read_choice(cell: str, column: Column, habits: Habits) -> Reading:
    """The word of the column's vocabulary that the text is, is a synonym of, or is nearly one of."""
    vocabulary = _vocabulary(tuple((column.accepted or {}).items()))
    text = tidy(cell)
    normal = normal_words(text)
    words = vocabulary.spaced.get(normal) or vocabulary.compact.get(normal.replace(" ", ""))
    if words and normal:
        if len(words) > 1:
            return ambiguous(f"either {' or '.join(sorted(words))}")
        return Reading(next(iter(words)))
    if says_nothing(text) or says_none(text):
        return BLANK
    near = _nearest(normal, vocabulary)
    if near is not None:
        return Reading(near, note="close match")
    return Reading(None, Problem("unknown_word", wanted(column)))


def _nearest(normal: str, vocabulary: Vocabulary) -> str | None:
    """The one word that is nearly spelled so; never one of the opposite sense or with other digits."""
    found = process.extract(normal, vocabulary.spaced.keys(), scorer=fuzz.ratio, score_cutoff=CLOSE_MATCH, limit=None)
    words = {
        word
        for spelling, _, _ in found
        if _DIGITS.findall(spelling) == _DIGITS.findall(normal)
        and len(_NEGATION.findall(spelling)) == len(_NEGATION.findall(normal))
        for word in vocabulary.spaced[spelling]
    }
    return words.pop() if len(words) == 1 else None


def read_yes_no(cell: str | float | bool, column: Column, habits: Habits) -> Reading:
    """True or false."""
    if not isinstance(cell, str):
        return Reading(bool(cell)) if cell in (0, 1) else unreadable(wanted(column))
    text = tidy(cell.replace("\ufe0e", "").replace("\ufe0f", ""))  # the marks that choose how a tick is drawn
    word = text.casefold().rstrip(".")
    if word in _YES:
        return Reading(True)
    if word in _NO:
        return Reading(False)
    return BLANK if says_nothing(text) else unreadable(wanted(column))
