"""Names that may be one station's: alike but for writing, or a letter apart. A person decides; nothing is merged."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from rapidfuzz.distance import OSA

from groundcheck.ingest.assets.identity import tag_key
from groundcheck.ingest.assets.station_likeness import WORDS, Likeness, likeness

_MISSPELLED = 7  # letters: a shorter name that is a letter apart is too often another place's
_CODE = 5  # letters: a word in capitals no longer than this, a letter apart from another, is another code
_SHORT_BLOCK = 30  # names: of so few, each is compared with each


@dataclass(frozen=True)
class SameStation:
    """Two names that may be one station's, and what speaks for it."""

    found: str
    meant: str
    why: str


def propose_same_stations(
    names: Mapping[str, int], recorded: Collection[str] = (), titles: Mapping[str, str] | None = None
) -> list[SameStation]:
    """
    Pairs of names that may be one station's, the surest first; each name is proposed to be another's once at most.

    Parameters
    ----------
    names
        The names in use, each with the number of rows that use it. Case and blanks do not make two of them.
    recorded
        The names that have a record of their own. The other name of a pair is proposed to be theirs; and two of them
        that are a letter apart are two stations.
    titles
        Full names by station. Another station by that name may be this one.
    """
    own = {tag_key(name) for name in recorded}
    distinct = _distinct(names)
    ranked = sorted(distinct.values(), key=lambda name: -names[name])
    if own:
        ranked.sort(key=lambda name: tag_key(name) not in own)
    likes = {name: likeness(name) for name in _without_lone_codes(ranked, (titles or {}).values())}
    proposed: dict[str, SameStation] = {}
    for group in _groups(likes):
        for place, name in enumerate(group[1:], 1):
            meant = next((other for other in group[:place] if not likes[name].clashes(likes[other])), None)
            if meant is not None:
                proposed[name] = SameStation(name, meant, "alike but for writing")
    for name, meant in _titled(likes, titles or {}):
        if name not in proposed and (meant not in proposed or proposed[meant].meant != name):
            proposed[name] = SameStation(name, meant, f"the full name of {meant}")
    for name, meant in _letter_apart([name for name in likes if name not in proposed], likes):
        both_recorded = {tag_key(name), tag_key(meant)} <= own
        if name not in proposed and not both_recorded and not likes[name].clashes(likes[meant]):
            proposed[name] = SameStation(name, meant, "a letter apart")
    return list(proposed.values())


def _without_lone_codes(names: list[str], full_names: Iterable[str]) -> list[str]:
    """The names but for codes, such as ASH07, of which no other name has the letters and the number."""
    texts = pc.utf8_lower(pa.array(names, pa.large_string()))
    letters = pc.replace_substring_regex(texts, "[0-9]+$", "")
    codes = pc.match_substring_regex(texts, f"^[a-z]{{2,{_MISSPELLED - 1}}}[0-9]+$")
    codes = pc.and_not(codes, pc.is_in(letters, value_set=pa.array(sorted(WORDS), pa.large_string())))
    is_code = codes.to_numpy(zero_copy_only=False)
    forms = pc.replace_substring_regex(texts, "^([a-z]+)0*([0-9]+)$", r"\1 \2").to_pandas()
    others = map(likeness, (*(names[place] for place in np.flatnonzero(~is_code).tolist()), *full_names))
    taken = {f"{like.letters} {like.apart[0]}" for like in others if len(like.apart) == 1}
    lone = is_code & ~forms[is_code].duplicated(keep=False).reindex(forms.index, fill_value=True).to_numpy()
    if taken:
        lone &= ~forms.isin(taken).to_numpy()
    return [names[place] for place in np.flatnonzero(~lone).tolist()]


def _distinct(names: Mapping[str, int]) -> dict[str, str]:
    """The names by key; of several that differ in case and blanks, the one in most rows."""
    found: dict[str, str] = {}
    for name, rows in names.items():
        other = found.setdefault(tag_key(name), name)
        if rows > names[other]:
            found[tag_key(name)] = name
    return found


def _groups(likes: Mapping[str, Likeness]) -> Iterator[list[str]]:
    groups: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for name, like in likes.items():
        if like.letters or len(like.apart) > 1:
            groups.setdefault((like.letters, like.apart), []).append(name)
    return (group for group in groups.values() if len(group) > 1)


def _titled(likes: Mapping[str, Likeness], titles: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Each name that is like the full name of one other station, with that station."""
    stations: dict[tuple[str, tuple[str, ...]], set[str]] = {}
    by_title = {title: likeness(title) for title in set(titles.values())}
    for station, title in titles.items():
        stations.setdefault((by_title[title].letters, by_title[title].apart), set()).add(station)
    entitled = set(titles)
    for name, like in likes.items():
        others = stations.get((like.letters, like.apart), set()) - {name}
        if like.letters and len(others) == 1 and name not in entitled:
            (meant,) = others
            if not like.clashes(by_title[titles[meant]]):
                yield name, meant


def _letter_apart(ranked: list[str], likes: Mapping[str, Likeness]) -> Iterator[tuple[str, str]]:
    """
    Names of which one is the other with a letter changed, added, left out or swapped, but no word's first letter.

    One of the two halves is then the same in both.
    """
    blocks: dict[tuple[object, ...], list[str]] = {}
    for name in ranked:
        like = likes[name]
        size = len(like.letters)
        if size >= _MISSPELLED:
            for half in {size // 2, (size - 1) // 2}:
                blocks.setdefault((like.letters[:half], like.initials, like.apart), []).append(name)
                blocks.setdefault((half, like.letters[-half:], like.initials, like.apart), []).append(name)
    found = {pair for block in blocks.values() if len(block) > 1 for pair in _pairs(block, likes)}
    order = {name: place for place, name in enumerate(ranked)}
    for one, other in sorted(found, key=lambda pair: (order[pair[0]], order[pair[1]])):
        apart = OSA.distance(likes[one].letters, likes[other].letters, score_cutoff=1) == 1
        codes = one.isupper() and other.isupper() and _is_other_code(likes[one].words, likes[other].words)
        if apart and not codes:
            yield one, other


def _is_other_code(words: tuple[str, ...], others: tuple[str, ...]) -> bool:
    """Whether the names differ in a short word of as many letters in both."""
    if len(words) != len(others):
        return False
    return any(word != other and len(word) == len(other) <= _CODE for word, other in zip(words, others, strict=True))


def _pairs(block: list[str], likes: Mapping[str, Likeness]) -> Iterator[tuple[str, str]]:
    """Pairs of a block that may be a letter apart, the later name first; of a long one, those that one shape fits."""
    if len(block) <= _SHORT_BLOCK:
        yield from ((name, other) for place, name in enumerate(block) for other in block[:place])
        return
    by_shape: dict[str, list[str]] = {}
    for name in block:
        letters = likes[name].letters
        for shape in {letters, *(letters[:place] + letters[place + 1 :] for place in range(1, len(letters)))}:
            others = by_shape.setdefault(shape, [])
            yield from ((name, other) for other in others[:_SHORT_BLOCK])
            others.append(name)
