"""Message, working and remedy of a rule, filled in with the numbers of one row."""

import math
import re
from collections.abc import Mapping
from string import Formatter
from typing import Any

from groundcheck.audit.fault import RuleFault

NOT_ON_RECORD = "not on record"
WITHOUT_LIMIT = "without limit"

_UNIT = re.compile(r" ?(kA|kV|kVA|MVA|A|V|s|ohm|uF|km|mm2|m|%|pu|deg|Hz)(?![\w/])")


def fill(template: str, row: Mapping[str, Any], part: str = "message") -> str:
    """
    The template with the values of the row; a unit that follows a value which is no number is dropped.

    A number without a format is shown with four significant digits.

    Raises
    ------
    RuleFault
        The template names a column that the row lacks, reaches into a value, or has a format that does not fit.
    """
    words: list[str] = []
    drop_unit = False
    try:
        pieces = list(Formatter().parse(template))
    except ValueError as error:
        raise RuleFault(f"the {part} is not a valid template ({error})", part) from error
    for literal, name, spec, conversion in pieces:
        words.append(_UNIT.sub("", literal, count=1) if drop_unit and _UNIT.match(literal) else literal)
        if name is None:
            continue
        if conversion or not name.isidentifier() or "{" in (spec or ""):
            raise RuleFault(f"the {part} has {{{name}}}; a place holds one column name and a format", part, name)
        if name not in row:
            raise RuleFault(f"the {part} needs the column `{name}`, which the query does not return", part, name)
        text, drop_unit = _shown(row[name], spec or "", part, name)
        words.append(text)
    return "".join(words)


def placeholders(template: str, part: str) -> list[str]:
    """
    The columns that a template needs.

    Raises
    ------
    RuleFault
        The template can't be read.
    """
    try:
        return [name for _, name, _, _ in Formatter().parse(template) if name is not None]
    except ValueError as error:
        raise RuleFault(f"the {part} is not a valid template ({error})", part) from error


def _shown(value: Any, spec: str, part: str, name: str) -> tuple[str, bool]:
    if value is None or (isinstance(value, float) and math.isnan(value)):
        return NOT_ON_RECORD, True
    if isinstance(value, float) and math.isinf(value):
        return WITHOUT_LIMIT, True
    if isinstance(value, bool):
        return "yes" if value else "no", False
    if isinstance(value, list):
        return ", ".join(str(each) for each in value) or "none", False
    if isinstance(value, float) and not spec:
        return in_digits(value) or NOT_ON_RECORD, False
    try:
        return format(value, spec), False
    except ValueError as error:
        raise RuleFault(f"the {part} shows `{name}` as `{spec}`, which does not fit {value!r}", part, name) from error


def in_digits(value: Any) -> str | None:
    """A value as text with at most four significant digits; None if it is not on record."""
    if value is None or (isinstance(value, float) and math.isnan(value)):
        return None
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return ", ".join(str(each) for each in value) or "none"
    if isinstance(value, int) or not isinstance(value, float):
        return str(value)
    if math.isinf(value):
        return WITHOUT_LIMIT
    if value == 0 or 1e-4 <= abs(value) < 1e7:
        digits = 0 if value == 0 else max(0, 3 - math.floor(math.log10(abs(value))))
        text = f"{value:.{digits}f}"
        return text.rstrip("0").rstrip(".") if "." in text else text
    return f"{value:.3e}"
