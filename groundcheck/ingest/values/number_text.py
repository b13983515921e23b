"""Numbers as people write them: thousands apart or not, decimal point or decimal comma."""

import re
from decimal import Decimal
from fractions import Fraction

_LEADING = re.compile(r"([+-]?(?:\d(?:[\d.,' \u2019]*\d)?\.?|[.,]\d+)(?:[eE][+-]?\d{1,3}(?![\d.,]))?)(.*)\Z", re.ASCII)

_PLAIN = re.compile(r"(\d+\.?\d*|\.\d+)(e[+-]?\d+)?\Z", re.I | re.ASCII)
_COMMA_DECIMAL = re.compile(r"\d*,\d+\Z", re.ASCII)
_SPACED = re.compile(r"[1-9]\d{0,2}([ '\u2019]\d{3})+([.,]\d+)?\Z", re.ASCII)
_COMMAS = re.compile(r"[1-9]\d{0,2}(,\d{3}){2,}(\.\d*)?\Z|[1-9]\d{0,2},\d{3}\.\d*\Z", re.ASCII)
_LAKHS = re.compile(r"[1-9]\d?(,\d{2})+,\d{3}(\.\d*)?\Z", re.ASCII)
_DOTS = re.compile(r"[1-9]\d{0,2}(\.\d{3}){2,}(,\d+)?\Z|[1-9]\d{0,2}\.\d{3},\d+\Z", re.ASCII)
_ONE_DOT = re.compile(r"[1-9]\d{0,2}\.\d{3}\Z", re.ASCII)
_ONE_COMMA = re.compile(r"[1-9]\d{0,2},\d{3}\Z", re.ASCII)
_FRACTION = re.compile(r"(?:(\d{1,3})[ -])?(\d{1,2}) ?([/\u2044]) ?(\d{1,2})(?![\d.,/])(.*)\Z", re.ASCII)
_DENOMINATORS = frozenset({2, 3, 4, 5, 6, 8, 10, 12, 16, 32})
_LONGEST = 40


def split_number(text: str) -> tuple[str, str] | None:
    """The number that a tidy text begins with, as text, and what follows it; None if it begins with none."""
    match = _LEADING.match(text.lstrip("'"))
    return (match[1], match[2].strip()) if match else None


def split_fraction(text: str, *, slash: bool) -> tuple[Fraction, str] | None:
    """
    The proper fraction or mixed number that a tidy text begins with, and what follows it.

    A fraction of one character, such as ½, always is one. Figures around a slash can be a ratio: they count only where
    the caller allows it, and with a whole number before or something after them.
    """
    match = _FRACTION.match(text)
    if match is None:
        return None
    whole, above, mark, below, rest = match.groups(default="")
    if int(below) not in _DENOMINATORS or int(above) >= int(below):
        return None
    if mark == "/" and not (slash and (whole or rest.strip())):
        return None
    return int(whole or 0) + Fraction(int(above), int(below)), rest.strip()


def parse_number(text: str, *, decimal_comma: bool = False) -> tuple[Fraction, ...]:
    """
    The number that a text is; two where a comma can mark decimals or thousands, the decimal reading first.

    Empty if the text is not one number.
    """
    if len(text) > _LONGEST:
        return ()
    sign = -1 if text.startswith("-") else 1
    body = text.removeprefix("-").removeprefix("+")
    return tuple(sign * number for number in _readings(body, decimal_comma))


def _readings(body: str, decimal_comma: bool) -> tuple[Fraction, ...]:
    if decimal_comma and _ONE_DOT.match(body):
        return (_exact(body.replace(".", "")),)
    if _PLAIN.match(body):
        return (_exact(body),)
    if _ONE_COMMA.match(body):
        decimal, thousands = _exact(body.replace(",", ".")), _exact(body.replace(",", ""))
        return (decimal,) if decimal_comma else (decimal, thousands)
    if _COMMA_DECIMAL.match(body):
        return (_exact(body.replace(",", ".")),)
    if _SPACED.match(body):
        return (_exact(re.sub("[ '\u2019]", "", body).replace(",", ".")),)
    if _COMMAS.match(body) or _LAKHS.match(body):
        return (_exact(body.replace(",", "")),)
    if _DOTS.match(body):
        return (_exact(body.replace(".", "").replace(",", ".")),)
    return ()


def _exact(text: str) -> Fraction:
    return Fraction(Decimal(text))
