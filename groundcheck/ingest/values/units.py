"""Units as the trade spells them, and exact factors between them."""

import re
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any, NamedTuple

from groundcheck.ingest.values.cell_text import tidy
from groundcheck.schema import Column


class Unit(NamedTuple):
    """What a unit measures, its name in pint, and its spellings; units that measure different things never convert."""

    measures: str
    pint_name: str
    spellings: tuple[str, ...]


# Case counts where it tells two units apart (mohm, Mohm); elsewhere any case is read. Common practice, no source.
_PER_PHASE = ("uF/phase", "μF/phase", "uF/ph", "μF/ph")
UNITS = {
    "V": Unit("voltage", "volt", ("volt", "volts", "v rms", "vrms")),
    "kV": Unit(
        "voltage",
        "kilovolt",
        (
            *("kvolt", "kvolts", "kilovolt", "kilovolts", "kvrms", "kv rms", "kvp", "kv peak", "kv pk"),
            *("kV L-L", "kV LL", "kV ph-ph", "kV line to line"),
        ),
    ),
    "A": Unit("current", "ampere", ("amp", "amps", "ampere", "amperes", "a rms", "arms", "amps rms")),
    "kA": Unit(
        "current",
        "kiloampere",
        ("kamp", "kamps", "kiloamp", "kiloamps", "karms", "ka rms", "kA sym", "kA rms sym", "kA sym rms"),
    ),
    "mA": Unit("current", "milliampere", ("milliamp", "milliamps")),
    "ohm": Unit("resistance", "ohm", ("ohms", "Ω", "ohm/phase", "ohms/phase", "Ω/phase", "ohm/ph", "ohms/ph", "Ω/ph")),
    "kohm": Unit("resistance", "kiloohm", ("kohms", "kΩ", "kilohm", "kilohms", "kilo-ohm")),
    "mohm": Unit("resistance", "milliohm", ("mohms", "mΩ", "milliohm", "milliohms", "milli-ohm", "milli-ohms")),
    "Mohm": Unit("resistance", "megaohm", ("Mohms", "MΩ", "megohm", "megohms")),
    "uohm": Unit(
        "resistance", "microohm", ("uohms", "uΩ", "μΩ", "μohm", "microhm", "micro-ohm", "micro-ohms", "microohms")
    ),
    "VA": Unit("power", "volt_ampere", ("volt-amperes", "volt-amps")),
    "kVA": Unit("power", "kilovolt_ampere", ()),
    "MVA": Unit("power", "megavolt_ampere", ()),
    "GVA": Unit("power", "gigavolt_ampere", ()),
    "kW": Unit("active power", "kilowatt", ("kilowatt", "kilowatts")),
    "MW": Unit("active power", "megawatt", ("megawatt", "megawatts")),
    "Hz": Unit("frequency", "hertz", ("c/s", "hertz", "cps")),
    "s": Unit("duration", "second", ("sec", "secs", "second", "seconds", "sek")),
    "ms": Unit("duration", "millisecond", ("msec", "msecs", "millisecond", "milliseconds")),
    "min": Unit("duration", "minute", ("mins", "minute", "minutes")),
    "h": Unit("duration", "hour", ("hr", "hrs", "hour", "hours")),
    "cycles": Unit("duration", "", ("cycle", "cyc", "cy", "cycs")),
    "mm": Unit("length", "millimeter", ("millimetre", "millimetres", "millimeter", "millimeters")),
    "cm": Unit("length", "centimeter", ("centimetre", "centimetres")),
    "m": Unit("length", "meter", ("metre", "metres", "meter", "meters", "mtr", "mtrs")),
    "km": Unit("length", "kilometer", ("kms", "kilometre", "kilometres", "kilometer", "kilometers")),
    "mi": Unit("length", "mile", ("mile", "miles")),
    "ft": Unit("length", "foot", ("foot", "feet")),
    "m2": Unit("area", "meter**2", ("sq m", "sqm", "m^2", "sq metres", "square metres", "square meters")),
    "ft2": Unit("area", "foot**2", ("sq ft", "sqft", "ft^2", "square feet")),
    "ha": Unit("area", "hectare", ("hectare", "hectares")),
    "mm2": Unit(
        "conductor area",
        "",
        ("sq mm", "sqmm", "mm^2", "mm sq", "square mm", "sq mms", "square millimetres", "sq millimetres"),
    ),
    "AWG": Unit("conductor area", "", ()),
    "kcmil": Unit("conductor area", "", ("mcm", "kcm", "kcmils")),
    "cmil": Unit("conductor area", "", ("cmils", "circular mils", "circ mils")),
    "ohm/km": Unit("resistance per length", "ohm/kilometer", ("ohms/km", "Ω/km")),
    "ohm/m": Unit("resistance per length", "ohm/meter", ("ohms/m", "Ω/m")),
    "ohm/mi": Unit("resistance per length", "ohm/mile", ("ohm/mile", "ohms/mile", "ohms/mi", "Ω/mi", "Ω/mile")),
    "ohm/kft": Unit("resistance per length", "ohm/kilofoot", ("ohms/kft", "ohm/1000 ft", "ohms/1000 ft", "Ω/kft")),
    "pF": Unit("capacitance", "picofarad", ()),
    "nF": Unit("capacitance", "nanofarad", ("nanofarad", "nanofarads", "nF/phase", "nF/ph")),
    "uF": Unit("capacitance", "microfarad", ("μF", "mfd", "microfarad", "microfarads", "micro-F", *_PER_PHASE)),
    "nF/km": Unit("capacitance per length", "nanofarad/kilometer", ()),
    "uF/km": Unit("capacitance per length", "microfarad/kilometer", ("μF/km",)),
    "uF/mi": Unit("capacitance per length", "microfarad/mile", ("μF/mi", "uF/mile", "μF/mile")),
    "ohm m": Unit(
        "resistivity",
        "ohm*meter",
        ("ohms m", "Ω m", "Ωm", "ohmm", "ohm metre", "ohm metres", "ohm meter", "ohm meters", "ohm mtr", "ohms metre"),
    ),
    "ohm cm": Unit("resistivity", "ohm*centimeter", ("ohms cm", "Ω cm", "Ωcm")),
    "%": Unit("ratio", "percent", ("percent", "per cent", "pct", "% on rating", "% on own rating")),
    "pu": Unit("ratio", "dimensionless", ("per unit", "p u", "pu on rating", "pu on own rating")),
    "deg": Unit("angle", "degree", ("°", "degree", "degrees")),
    "degC": Unit("temperature", "", ("°c", "deg c", "celsius")),
}

# A number too large for its column by a thousand may be one without its 'k' or 'M'.
THOUSANDTH = {"kV": "V", "kA": "A", "MVA": "kVA", "kVA": "VA", "km": "m"}

# Read as nothing: capitals that may mean milli or mega, and letters that also stand for a power factor.
_UNCLEAR = frozenset({"MA", "Ma", "MOHM", "MOHMS", "PF", "pf", "Pf"})

_SEPARATORS = re.compile(r"\s*(?:/|\bper\b)\s*")
_JOINED = re.compile(r"[\s·⋅*-]+")


def _plain(text: str) -> str:
    text = _SEPARATORS.sub("/", text.replace(".", "").replace("(s)", "s").replace("(rms)", " rms"))
    return _JOINED.sub(" ", text).strip()


@cache
def _spellings() -> tuple[dict[str, str], dict[str, str]]:
    """Every spelling with its unit, in the case given; and in any case, where that leaves one unit."""
    exact = {_plain(spelling): name for name, unit in UNITS.items() for spelling in (name, *unit.spellings)}
    meanings: dict[str, set[str]] = {}
    for spelling, name in exact.items():
        meanings.setdefault(spelling.casefold(), set()).add(name)
    return exact, {spelling: names.pop() for spelling, names in meanings.items() if len(names) == 1}


@lru_cache(maxsize=4096)
def known_unit(text: str) -> str | None:
    """The unit that a text names, in the spelling used here; None if it names none."""
    plain = _plain(tidy(text))
    if not plain or plain in _UNCLEAR:
        return None
    exact, any_case = _spellings()
    prefixed = plain[0] + plain[1:].casefold()
    return exact.get(plain) or exact.get(prefixed) or any_case.get(plain.casefold())


# What UNITS needs, in the notation of pint's definition files; its own file has a thousand more and takes a second.
_DEFINITIONS = """
pico- = 1e-12
nano- = 1e-9
micro- = 1e-6
milli- = 1e-3
centi- = 1e-2
kilo- = 1e3
mega- = 1e6
giga- = 1e9
meter = [length]
second = [time]
ampere = [current]
volt = [potential]
watt = [active_power]
degree = [angle]
percent = 0.01
minute = 60 * second
hour = 60 * minute
hertz = 1 / second
foot = 0.3048 * meter
mile = 5280 * foot
hectare = 10000 * meter ** 2
ohm = volt / ampere
farad = ampere * second / volt
volt_ampere = volt * ampere
"""


@cache
def _registry() -> Any:
    import pint  # many workbooks need no conversion

    registry: Any = pint.UnitRegistry(None, non_int_type=Fraction)
    registry.load_definitions(_DEFINITIONS.strip().splitlines())
    return registry


@cache
def factor(unit: str, canonical: str | None, frequency: float | None = None) -> Fraction | None:
    """What a number in one known unit is multiplied by to be in the canonical one; None if it cannot be."""
    if unit == canonical:
        return Fraction(1)
    if canonical is None:
        return None
    measures = UNITS[unit].measures
    if " or " in canonical:
        targets = {UNITS[name].measures: name for name in canonical.split(" or ")}
        return factor(unit, targets[measures]) if measures in targets else None
    if unit == "cycles" and canonical == "s":
        return 1 / Fraction(frequency) if frequency else None
    names = UNITS[unit].pint_name, UNITS[canonical].pint_name
    if measures != UNITS[canonical].measures or not all(names):
        return None
    return Fraction(_registry().convert(Fraction(1), *names))


def converts(unit: str, column: Column) -> bool:
    """Whether a bare number under that unit can be the column's; a column without a unit takes any."""
    name = known_unit(unit)
    if column.kind == "size":
        return name is not None and UNITS[name].measures == "conductor area"
    if name is None or column.kind not in ("quantity", "count"):
        return False
    return column.unit is None or factor(name, column.unit, 50.0) is not None
