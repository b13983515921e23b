"""Names of months in the languages that registers are kept in."""

import unicodedata

_ENGLISH = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)

# Wide and abbreviated names, in sentences and alone, of de, es, fr, it, nl, pt; accents left out, none of two months.
# Source: Unicode CLDR, month names of the Gregorian calendar.
_NAMES = (
    "januar januari janvier janv enero ene gennaio gen janeiro",
    "februar februari fevrier fevr febrero febbraio fevereiro fev",
    "marz mar mars marzo maart mrt marco",
    "avril avr abril abr aprile",
    "mai mayo maggio mag mei maio",
    "juni juin junio giugno giu junho",
    "juli juillet juil julio luglio lug julho",
    "aout agosto ago augustus",
    "sept septembre septiembre settembre set setembro",
    "oktober okt octobre octubre ottobre ott outubro out",
    "novembre noviembre novembro",
    "dezember dez decembre diciembre dic dicembre dezembro",
)

MONTHS = {name: number for number, names in enumerate(_NAMES, 1) for name in names.split()}
MONTHS |= {spelling: number for number, name in enumerate(_ENGLISH, 1) for spelling in (name, name[:3])}


def without_accents(text: str) -> str:
    """A text whose letters have lost their accents."""
    if text.isascii():
        return text
    return "".join(letter for letter in unicodedata.normalize("NFKD", text) if not unicodedata.combining(letter))
