"""Voltages of single-phase transformers, written as the line-to-line voltage divided by root three."""

import re

MARK = "\ue000"
NOTE = "written line-to-neutral, divided by root 3: the line-to-line voltage is kept"
ONE_SIDE = "root 3 stands beside one voltage and not the other: write both line-to-line"

_DIVISOR = re.compile(
    r"\s*/\s*(?:√\s*\(?\s*3\s*\)?|(?:sqrt|root|rt)[ -]?\(?\s*3\s*\)?"
    r"|3\s*\^\s*(?:0?\.5|½|\(?1/2\)?)|1[.,]73[0-9]{0,3})(?![\d.])",
    re.I,
)
_BRACKETED = re.compile(rf"\(\s*([\d.,' ]+ ?[kK]?[vV]?{MARK})\s*\)")


def mark_root_three(text: str) -> str:
    """A text with a mark after each number in the place of '/√3'."""
    return _BRACKETED.sub(r"\1", _DIVISOR.sub(MARK, text))
