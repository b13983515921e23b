"""A comma that marks decimals or thousands: which of the two numbers is meant, and how to ask."""

from fractions import Fraction

from groundcheck.ingest.values.reading import Reading
from groundcheck.ingest.values.units import THOUSANDTH

_DECIMALS = "the comma is read as a decimal mark, for the larger number is outside the limits"
_THOUSANDS = "the comma is read as parting thousands, for the smaller number is outside the limits"


def choose(readings: list[Reading], unit: str | None, written: bool) -> Reading | None:
    """Which of the readings (decimal, thousands) is meant; None if either may be."""
    decimal, thousands = readings
    if unit in ("V", "A", "V or A", "A or V"):
        return thousands
    if (written or unit not in THOUSANDTH) and (decimal.problem is None) != (thousands.problem is None):
        if decimal.problem is None:
            return decimal._replace(note=_DECIMALS)
        return thousands._replace(note=_THOUSANDS)
    return None


def either(numbers: tuple[Fraction, ...], unit: str | None, *, within: bool) -> str:
    """Both numbers with their units; the larger in the smaller unit where it would be outside the limits otherwise."""
    unit = unit or ""
    smaller = unit if within else THOUSANDTH.get(unit, unit)
    thousands = f"{int(numbers[1]):,}".replace(",", " ")
    return f"{float(numbers[0]):g} {unit}".strip() + " or " + f"{thousands} {smaller}".strip()
