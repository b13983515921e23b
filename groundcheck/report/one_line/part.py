"""A piece of the drawing about its own lead, with the boxes of its texts and symbols."""

from typing import NamedTuple
from xml.sax.saxutils import escape, quoteattr

from groundcheck.report.cell_text import clean_text
from groundcheck.report.marks import Mark
from groundcheck.report.one_line.findings import Findings
from groundcheck.report.one_line.symbols import MARKS, n
from groundcheck.report.one_line.text_width import shorten, text_width
from groundcheck.report.one_line.words import shown

SIZE = 10.0  # of ordinary labels
ROW = 12.5  # from one line of text to the next
ROOM = 190.0  # no line of text is wider
RELAY = 11.0  # radius


class Box(NamedTuple):
    """What a text or a symbol covers."""

    left: float
    top: float
    right: float
    bottom: float
    what: str  # 'text' or 'symbol'
    says: str


class Part:
    """Drawn downward from (0, 0); `left`, `right` and `height` are what it covers."""

    def __init__(self, findings: Findings) -> None:
        self.findings = findings
        self.out: list[str] = []
        self.boxes: list[Box] = []
        self.assets: list[str] = []
        self.left = self.right = 8.0
        self.height = 0.0

    def open(self, kind: str, tag: str, title: str, key: str | None = None) -> None:
        """Begin the group of one asset; a page finds it by `data-asset`."""
        name = f"{kind}:{key or tag}"
        said = self.findings.words(kind, tag) if key is None else None
        self.assets.append(name)
        whole = clean_text(f"{title}. {said}" if said else title)
        self.out.append(f"<g class='ol-a' data-asset={quoteattr(clean_text(name))}><title>{escape(whole)}</title>")

    def close(self) -> None:
        """End the group."""
        self.out.append("</g>")

    def path(self, data: str, look: str = "w") -> None:
        """A path of one look: w wire, s symbol (filled with paper), f filled, d dotted, b bus."""
        self.out.append(f"<path class='ol-{look}' d='{data}'/>")

    def symbol(self, data: str, box: tuple[float, float, float, float], look: str = "s", says: str = "") -> None:
        """A symbol and what it covers."""
        self.path(data, look)
        self.boxes.append(Box(*box, "symbol", says))
        self._cover(box[0], box[2], box[3])

    def text(
        self, x: float, y: float, words: str, look: str = "t", side: int = 1, size: float = SIZE, room: float = ROOM
    ) -> float:
        """A line of text with its baseline at y, from x to the right (side 1), to the left (-1) or about it (0)."""
        whole, bold = shown(words), look == "h"
        said = shorten(whole, size, room, bold)
        width = text_width(said, size, bold)
        left = x - (0.0, width / 2, width)[1 - side]
        anchor = ("", " text-anchor='middle'", " text-anchor='end'")[1 - side]
        title = "" if said == whole else f"<title>{escape(whole)}</title>"
        scale = "" if size == SIZE else f" font-size='{n(size)}'"
        self.out.append(f"<text class='ol-{look}' x='{n(x)}' y='{n(y)}'{anchor}{scale}>{title}{escape(said)}</text>")
        self.boxes.append(Box(left, y - 0.75 * size, left + width, y + 0.22 * size, "text", said))
        self._cover(left, left + width, y + 3)
        return width

    def mark(self, mark: Mark, x: float, y: float, said: str) -> None:
        """The mark of findings, in shape as well as color."""
        shape = MARKS.get(mark.shape, MARKS["circle"])(x, y)
        look = f"ol-m ol-m-{mark.key}" + ("" if mark.filled else " ol-m-o")
        self.out.append(f"<path class='{look}' d='{shape}'><title>{escape(said)}</title></path>")
        self.boxes.append(Box(x - 5, y - 5, x + 5, y + 5, "symbol", mark.word))
        self._cover(x - 5, x + 5, y + 5)

    def head(
        self, x: float, y: float, kind: str, tag: str, side: int = 1, more: str = "", own: bool = True,
        room: float = ROOM,
    ) -> float:  # fmt: skip
        """The tag of an asset, with the mark of its findings before it; how wide."""
        mark = self.findings.mark(kind, tag) if own else None
        shift = 0.0
        if mark:
            shift = 13.0
            at = x + side * 5
            self.mark(mark, at, y - 3.5, self.findings.words(kind, tag) or "")
        width = self.text(x + side * shift, y, tag, "h", side, room=ROOM - 60)
        if more:
            width += 5 + self.text(x + side * (shift + width + 5), y, more, "t", side, room=room)
        return width + shift

    def _cover(self, left: float, right: float, bottom: float) -> None:
        self.left = max(self.left, -left)
        self.right = max(self.right, right)
        self.height = max(self.height, bottom)
