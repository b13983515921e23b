"""The text of a file: by its byte order mark, by where its null bytes stand, as UTF-8, and only then by its letters."""

import codecs
import re
from dataclasses import dataclass

from charset_normalizer import from_bytes

_MARKS = {  # UTF-32 first: its mark begins with that of UTF-16
    codecs.BOM_UTF32_LE: "utf-32",
    codecs.BOM_UTF32_BE: "utf-32",
    codecs.BOM_UTF8: "utf-8-sig",
    codecs.BOM_UTF16_LE: "utf-16",
    codecs.BOM_UTF16_BE: "utf-16",
}
# Encodings of other scripts, whose letters are told from those of Western Europe; and of bytes that Windows-1252 lacks.
_OTHER_SCRIPTS = ["cp1251", "koi8_r", "cp1253", "shift_jis", "gb18030", "big5", "euc_kr"]
_EAST_ASIAN = frozenset({"shift_jis", "gb18030", "big5", "euc_kr"})
_OTHER_LATIN = ["cp1250", "cp850", "mac_roman"]
# Between these shares of bytes beyond ASCII among the letters a text is in a Latin script, or is not: a Polish text
# has one in ten, a Russian one nearly all. Common practice, no source.
_OTHER_SCRIPT_SHARE = 0.4
_SURE = 0.2  # of charset-normalizer's measure of agreement with a language
_SAMPLE = 1 << 16
_BEYOND_ASCII = re.compile(rb"[\x80-\xff]")
_LETTERS = re.compile(rb"[A-Za-z\x80-\xff]")
_WIDE_CHARACTER = re.compile(rb"[\xc2-\xf4][\x80-\xbf]+")


@dataclass(frozen=True)
class Decoded:
    """A text, and the encoding it was taken to be in, as it is shown."""

    text: str
    encoding: str


def decode(content: bytes) -> Decoded:
    """The text of a file; a byte that has no meaning in the encoding becomes U+FFFD."""
    for mark, encoding in _MARKS.items():
        if content.startswith(mark):
            return Decoded(content.decode(encoding, errors="replace"), encoding.removesuffix("-sig"))
    wide = _wide_encoding(content)
    if wide:
        return Decoded(content.decode(wide, errors="replace"), f"{wide} without mark")
    try:
        return Decoded(content.decode("utf-8"), "utf-8")
    except UnicodeDecodeError:
        return _decode_bytes(content)


def _wide_encoding(content: bytes) -> str | None:
    """UTF-16 and UTF-32 without mark: in a text of mostly ASCII every other byte, or three of four, are null."""
    sample = content[:_SAMPLE]
    if b"\x00" not in sample or len(content) % 2:
        return None
    nulls = [sample[place::4].count(0) / max(len(sample) // 4, 1) for place in range(4)]
    if len(content) % 4 == 0 and min(nulls[1:]) > 0.9 and nulls[0] < 0.1:
        return "utf-32-le"
    if len(content) % 4 == 0 and min(nulls[:3]) > 0.9 and nulls[3] < 0.1:
        return "utf-32-be"
    even, odd = sample[::2].count(0), sample[1::2].count(0)
    half = len(sample) / 2
    if odd > 0.5 * half and even < 0.05 * half:
        return "utf-16-le"
    if even > 0.5 * half and odd < 0.05 * half:
        return "utf-16-be"
    return None


def _decode_bytes(content: bytes) -> Decoded:
    beyond = len(_BEYOND_ASCII.findall(content))
    whole = sum(map(len, _WIDE_CHARACTER.findall(content)))
    if whole > 0.9 * beyond and whole < beyond:
        # Nearly all is UTF-8: some line of another origin was pasted in.
        text = content.decode("utf-8", errors="replace")
        return Decoded(text, f"utf-8 but for {text.count(chr(0xFFFD))} characters")
    # Lines that hold ASCII alone say nothing.
    sample = b"\n".join(line for line in content.splitlines() if _BEYOND_ASCII.search(line))[:_SAMPLE]
    share = len(_BEYOND_ASCII.findall(sample)) / max(len(_LETTERS.findall(sample)), 1)
    if share > _OTHER_SCRIPT_SHARE:
        other = _surest(sample, _OTHER_SCRIPTS)
        if other:
            return Decoded(content.decode(other, errors="replace"), other)
    try:
        return Decoded(content.decode("cp1252"), "cp1252")
    except UnicodeDecodeError:
        other = _surest(sample, _OTHER_LATIN)
        return Decoded(content.decode(other or "cp1252", errors="replace"), other or "cp1252")


def _surest(sample: bytes, encodings: list[str]) -> str | None:
    """Which of some encodings a text is in; None if no language bears it out."""
    matches = from_bytes(sample, cp_isolation=encodings)
    best = matches.best()
    if best is None:
        return None
    # Few names bear out no language; but then they may make sense in one encoding alone.
    sure = best.coherence >= _SURE or len(matches) == 1 or best.encoding in _EAST_ASIAN
    return best.encoding if sure or encodings is _OTHER_LATIN else None
