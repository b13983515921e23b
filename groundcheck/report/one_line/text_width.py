"""How wide a text is, near enough to keep labels apart, and texts shortened to a width."""

from functools import lru_cache

# Widths in hundredths of the type size of a wide sans serif; narrower ones leave a little more room.
_WIDTHS = {
    **dict.fromkeys(" .,'|", 32),
    **dict.fromkeys("iIljJ!", 30),
    **dict.fromkeys("-/:;ft()[]", 39),
    **dict.fromkeys('r"*', 47),
    **dict.fromkeys("csz_", 56),
    **dict.fromkeys("mW%@", 99),
    **dict.fromkeys("wM+=<>", 86),
    **dict.fromkeys("CDGHNOQU", 78),
    **dict.fromkeys("ABKPRSVXZ&", 70),
}
_OTHER = 64  # digits, most small letters
_BOLD = 1.12
MARGIN = 1.03


@lru_cache(maxsize=20_000)
def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of one line of text, in the unit of `size`."""
    hundredths = sum(_WIDTHS.get(c, _OTHER) if c < "\u0300" else 64 if c < "\u2e80" else 104 for c in text)
    return hundredths / 100 * size * MARGIN * (_BOLD if bold else 1)


def shorten(text: str, size: float, room: float, bold: bool = False) -> str:
    """The text, or as much of its beginning as has room, with an ellipsis."""
    if text_width(text, size, bold) <= room:
        return text
    cut = min(len(text), int(room / size * 4))
    while cut > 1 and text_width(text[:cut] + "…", size, bold) > room:
        cut -= 1
    return text[:cut].rstrip() + "…"
