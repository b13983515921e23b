"""The key: each symbol of the drawings with what it stands for."""

from groundcheck.report.marks import HIGH, LOW, MEDIUM, WAIVED
from groundcheck.report.one_line import symbols
from groundcheck.report.one_line.findings import Findings
from groundcheck.report.one_line.neutrals import device_symbol
from groundcheck.report.one_line.part import Part
from groundcheck.report.one_line.style import file_style, page_style
from groundcheck.report.one_line.symbols import line
from groundcheck.report.one_line.words import DEVICES

WIDE, TALL, ACROSS = 244, 62, 4


def one_line_key_svg(*, standalone: bool = False, dark: bool = False, embed_style: bool = True) -> str:
    """All symbols in rows of four."""
    out: list[str] = []
    items = [*_equipment(), *_neutrals(), *_other()]
    for place, (part, words) in enumerate(items):
        x, y = 28 + place % ACROSS * WIDE, 8 + place // ACROSS * TALL
        for number, said in enumerate(words.split("; ")):
            part.text(34, 16 + number * 12.5, said, "t" if number == 0 else "q", room=206)
        out += [f"<g transform='translate({x} {y})'>", *part.out, "</g>"]
    width, height = ACROSS * WIDE + 10, (len(items) + ACROSS - 1) // ACROSS * TALL + 12
    style = file_style(dark) if standalone else page_style() if embed_style else ""
    paper = f"<rect class='ol-g' width='{width}' height='{height}'/>" if standalone else ""
    said = "; ".join(words.replace("; ", ", ") for _, words in items)
    return (
        f"<svg xmlns='http://www.w3.org/2000/svg' class='ol' role='img' width='{width}' height='{height}' "
        f"viewBox='0 0 {width} {height}' aria-labelledby='ol-key-title ol-key-desc'>"
        f"<title id='ol-key-title'>Key of symbols of the one-line diagrams</title><desc id='ol-key-desc'>{said}</desc>"
        f"<style>{style}</style>{paper}{''.join(out)}</svg>"
    )


def _part(data: str, look: str = "s") -> Part:
    part = Part(Findings("", ()))
    part.path(data, look)
    return part


def _equipment() -> list[tuple[Part, str]]:
    c, r = symbols.circle, 11
    two = _part(line(0, 0, 0, 4) + line(0, 41, 0, 46), "w")
    two.path(c(0, 15, r), "s")
    two.path(c(0, 30, r), "n")
    two.path(symbols.star(0, 13, 4) + symbols.delta(0, 32, 4), "w")
    three = _part(c(0, 13, r), "s")
    three.path(c(9, 28, r) + c(-9, 28, r), "n")
    auto = _part(c(0, 28, r), "s")
    auto.path(f"M0 9a19 19 0 0 1 {r} 19M0 9V2", "w")
    generator = _part(c(0, 20, 15), "s")
    generator.text(0, 22, "G", "h", 0, 13)
    generator.path("M-6 28q3 -5 6 0t6 0", "w")
    zigzag = _part(c(0, 20, 14), "s")
    zigzag.path(symbols.zigzag(0, 21), "w")
    bar = _part("M-18 18H18", "b")
    phantom = _part("M-18 18H18", "b ol-p")
    passing = _part("M-18 18H18", "b")
    passing.path("M-9 4V32M8 4V12.5M8 23.5V32", "w")
    passing.path(symbols.circle(-9, 18, 2.6), "f")
    windings = _part(symbols.star(-14, 18) + symbols.delta(0, 18) + symbols.zigzag(15, 18), "w")
    return [
        (bar, "bus"),
        (phantom, "bus that records name; and no record describes"),
        (passing, "lead at a bus; with a gap: passing it"),
        (two, "transformer; of two windings"),
        (three, "transformer; of three windings"),
        (auto, "autotransformer"),
        (windings, "wye, delta, zigzag"),
        (_part(symbols.network(0, 8)), "infeed; the network behind it"),
        (generator, "generator"),
        (zigzag, "grounding transformer"),
        (_part(line(0, 2, 0, 26) + symbols.down_arrow(0, 36), "f"), "line or cable out"),
    ]


def _neutrals() -> list[tuple[Part, str]]:
    found = []
    for kind, words in DEVICES.items():
        part = Part(Findings("", ()))
        device_symbol(part, 0, 2, kind)
        found.append((part, f"neutral: {words}"))
    part = _part(symbols.circle(0, 19, 9) + line(0, 2, 0, 10), "d")
    part.text(0, 23, "?", "h", 0, 12)
    return [*found, (part, "neutral: not on record")]


def _other() -> list[tuple[Part, str]]:
    c = symbols.circle
    closed = _part("M-14 18H14", "w")
    closed.path(c(-11, 18, 2) + c(11, 18, 2), "f")
    opened = _part("M-18 18H-11L8 7M11 18H18", "w")
    opened.path(c(-11, 18, 2) + c(11, 18, 2), "f")
    vt = _part(c(0, 13, 9) + c(0, 26, 9), "n")
    vt.path(symbols.star(0, 11, 3.5) + symbols.open_delta(0, 28, 3), "w")
    ct = _part(line(0, 2, 0, 36) + c(0, 18, 7) + "M7 18h6M9 21l3 -6", "w")
    relay = _part(c(0, 18, 11))
    relay.text(0, 21, "51G", "t", 0, 8.5)
    lamps = _part(c(0, 18, 8) + "M-5.7 12.3l11.3 11.3M5.7 12.3l-11.3 11.3")
    arrester = _part(symbols.arrester(0, 2) + line(0, 28, 0, 32) + symbols.ground(0, 32))
    rows = [
        (closed, "switch, closed"),
        (opened, "switch, open"),
        (vt, "voltage transformer; here wye, open delta"),
        (ct, "current transformer"),
        (relay, "ground relay; function number, IEEE C37.2"),
        (lamps, "ground lamps"),
        (arrester, "arrester"),
    ]
    for mark in (HIGH, MEDIUM, LOW, WAIVED):
        part = Part(Findings("", ()))
        part.mark(mark, 0, 16, mark.word)
        rows.append((part, "waived findings only" if mark is WAIVED else f"worst open finding: {mark.word}"))
    zone = _part("M-20 6h40v22h-40z", "z ol-z2")
    zone.text(-16, 18, "Z2", "h")
    return [*rows, (zone, "zone; dotted: grounding not known")]
