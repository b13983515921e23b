"""The text of a cell without accidents of typing; texts that say nothing, and texts that say that a formula failed."""

import re
import unicodedata

_SUPERSCRIPT_OF_A_NUMBER = re.compile("(?<=[0-9])(?=[⁰¹²³⁴⁵⁶⁷⁸⁹])")
_FRACTION_AFTER_A_NUMBER = re.compile("(?<=[0-9])(?=[¼-¾⅐-⅟↉])")
_INVISIBLE = re.compile("[\u00ad\u200b-\u200f\u2060\ufeff]")
_SPACES = re.compile(r"\s+")
_NO_LETTER = re.compile(r"[-\s?._*/\u2010-\u2015\u2026]*\Z")
_ELSEWHERE = re.compile(
    r"\(?(?:please )?(?:refer(?: to)?|see|ref\.?|as per|vide) (?:[\w.'-]+ ){0,4}?"
    r"(?:notes?|dwgs?|drgs?|drawings?|sld|remarks?|comments?|sheets?|pages?|files?|reports?|documents?|above|below|"
    r"attached|attachment|overleaf|schedule|nameplate|name plate|diagrams?|manual|datasheet|data sheet)\b"
    r"|\(?(?:note|dwg|drg|drawing) ?(?:no\.? ?)?\d+\)?\.?\Z|ditto\Z|do\.\Z|(?:same )?as above\Z",
    re.I,
)
_EXCEL_ERROR = re.compile(
    r"#(REF!|N/A|DIV/0!|VALUE!|NAME\?|NUM!|NULL!|SPILL!|CALC!|FIELD!|BLOCKED!|GETTING_DATA)", re.I
)

# Texts that say that a fact is not on record; common practice, no source.
_BLANK = frozenset(
    {
        *(
            "n/a",
            "na",
            "n.a",
            "n.a.",
            "n/k",
            "nk",
            "n.k",
            "n.k.",
            "n/av",
            "not applicable",
            "not available",
            "not known",
            "not given",
        ),
        *("not recorded", "not stated", "not on record", "no data", "no record", "no info", "no information"),
        *("tbc", "tba", "tbd", "tbc.", "t.b.c.", "t.b.a.", "to be confirmed", "to be advised", "to be determined"),
        *("unknown", "unk", "unk.", "blank", "null", "pending", "missing", "nan", "nat"),
    }
)
_NOTHING = frozenset({"none", "nil"})


def tidy(text: str) -> str:
    """
    One form for the widths of digits, kinds of space, and signs of one meaning.

    A superscript or a fraction after a digit keeps apart from it, so that ten squared is never a hundred and two, and
    one and a half never eleven halves.
    """
    if text.isascii():
        return _SPACES.sub(" ", text).strip()
    text = _SUPERSCRIPT_OF_A_NUMBER.sub("^", text)
    text = _FRACTION_AFTER_A_NUMBER.sub(" ", text)
    text = _INVISIBLE.sub("", unicodedata.normalize("NFKC", text))
    return _SPACES.sub(" ", text.replace("\u2212", "-")).strip()


def says_nothing(text: str) -> bool:
    """Whether a tidy text says that the fact is not on record."""
    return text.casefold() in _BLANK or _NO_LETTER.match(text) is not None


def says_none(text: str) -> bool:
    """Whether a tidy text is 'none' or 'nil': blank in most columns, an answer in some."""
    return text.casefold() in _NOTHING


def points_elsewhere(text: str) -> bool:
    """Whether a tidy text names another place to look, such as a note or a drawing, instead of a value."""
    return _ELSEWHERE.match(text) is not None


def is_excel_error(text: str) -> bool:
    """Whether a tidy text is what a spreadsheet shows for a formula that failed."""
    return text.startswith("#") and _EXCEL_ERROR.match(text) is not None
