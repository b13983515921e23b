"""Whether each voltage transformer stands between line and ground, from the words of its record."""

import re

import numpy as np
from numpy.typing import NDArray

from groundcheck.errors import PolicyError
from groundcheck.study.context import Study

Floats = NDArray[np.float64]
KIND = "instrument_transformer"


def stands_to_ground(study: Study) -> Floats:
    """1 where its connection says so, 0 where it says line to line, NaN where it says neither."""
    to_ground = _pattern(study, "standing_fault.grounded_connections")
    to_line = _pattern(study, "standing_fault.line_to_line_connections")
    words = study.records.words(KIND, "connection")
    answers = {word: _answer(word, to_ground, to_line) for word in {w for w in words if w is not None}}
    return np.array([answers.get(word, np.nan) for word in words], dtype=float)


def names_broken_delta(study: Study) -> NDArray[np.bool_]:
    """Whether its connection names a winding in broken delta."""
    wanted = _pattern(study, "ground_detector.broken_delta_connections")
    words = study.records.words(KIND, "connection")
    return np.array([w is not None and wanted.search(_plain(w)) is not None for w in words], dtype=bool)


def _plain(word: str) -> str:
    return re.sub(r"[ ._/()-]", "", str(word)).upper()


def _answer(word: str, to_ground: re.Pattern[str], to_line: re.Pattern[str]) -> float:
    plain = _plain(word)
    if to_ground.search(plain):
        return 1.0
    return 0.0 if to_line.search(plain) else float("nan")


def _pattern(study: Study, entry: str) -> re.Pattern[str]:
    try:
        return re.compile(study.policy[entry])
    except re.error as error:
        raise PolicyError(
            f"policy entry `{entry}`: '{study.policy[entry]}' is no regular expression ({error})"
        ) from error
