"""The one-line diagram of a station as SVG."""

import zlib
from collections.abc import Sequence
from typing import Any
from xml.sax.saxutils import escape, quoteattr

from groundcheck.report.cell_text import clean_text
from groundcheck.report.facts import FindingFacts, StationFacts
from groundcheck.report.field_names import kind_in_words
from groundcheck.report.one_line.description import describe
from groundcheck.report.one_line.findings import findings_in_words, worst_mark
from groundcheck.report.one_line.layout import MARGIN, lay_out
from groundcheck.report.one_line.model import Model
from groundcheck.report.one_line.part import ROW, Box, Part
from groundcheck.report.one_line.places import Bar, Layout
from groundcheck.report.one_line.read import read_model
from groundcheck.report.one_line.style import file_style, page_style
from groundcheck.report.one_line.symbols import circle, line, n
from groundcheck.report.one_line.words import joined, quantity, shown

DRAWN = {
    "bus", "zone", "transformer", "infeed", "generator", "grounding_transformer", "neutral_device", "line", "switch",
    "ground_relay", "ground_detector", "arrester", "ground_grid", "substation", "instrument_transformer",
}  # fmt: skip
GAP = 5.5  # from a bar to the ends of a lead that passes it
NOTE = "Drawn from the record. Not for switching, isolation or work on site."


def one_line_svg(
    station: StationFacts,
    findings: Sequence[FindingFacts] = (),
    *,
    standalone: bool = False,
    dark: bool = False,
    embed_style: bool = True,
) -> str:
    """
    Draw a station from its record.

    standalone : a file of its own: title, note, paper, plain colors (`dark` or light). Otherwise the drawing takes ink
        and dark or light from the page; `embed_style` False leaves the rules to a page that holds `page_style()` once.
    """
    return picture(station, findings, standalone=standalone, dark=dark, embed_style=embed_style).svg


class Picture:
    """A finished drawing: its SVG, the boxes of texts and symbols, and the assets in it."""

    def __init__(self) -> None:
        self.svg = ""
        self.boxes: list[Box] = []
        self.assets: list[str] = []
        self.out: list[str] = []

    def add(self, part: Part, x: float, y: float, look: str = "") -> None:
        """A part at its place."""
        self.out.append(f"<g{look} transform='translate({n(x)} {n(y)})'>")
        self.out += part.out
        self.out.append("</g>")
        self.assets += part.assets
        for box in part.boxes:
            self.boxes.append(Box(box.left + x, box.top + y, box.right + x, box.bottom + y, box.what, box.says))


def picture(
    station: StationFacts,
    findings: Sequence[FindingFacts] = (),
    *,
    standalone: bool = False,
    dark: bool = False,
    embed_style: bool = True,
) -> Picture:
    """As `one_line_svg`, with what a test wants to look at."""
    model = read_model(station, findings)
    drawing = Picture()
    top = 34.0 if standalone else 4.0
    layout = lay_out(model, top)
    _bands(drawing, layout)
    _leads(drawing, layout)
    for bar in layout.bars:
        look = "ol-b ol-p" if bar.bus.note else "ol-b"
        drawing.out.append(f"<path class='{look}' d='{line(bar.start, bar.y, bar.end, bar.y)}'/>")
        drawing.boxes.append(Box(bar.start, bar.y - 2, bar.end, bar.y + 2, "bar", bar.bus.tag))
        drawing.add(bar.label, bar.start, bar.y - bar.label.height, " class='ol-l'")
    for hung in layout.hung:
        drawing.add(hung.part, hung.x, hung.y)
    for lying in layout.lying:
        drawing.add(lying.part, (lying.a.end + lying.b.start) / 2, lying.a.y)
    bottom = layout.bottom
    if not layout.bars:
        part = Part(model.findings)
        part.text(0, 12, "No bus on record.", "q")
        drawing.add(part, 0, bottom)
        bottom += 24
    bottom = _mat(drawing, model, layout.width, bottom + 8)
    bottom = _notes(drawing, model, layout.width, bottom)
    width = max([layout.width, *(box.right for box in drawing.boxes)])
    if standalone:
        part = Part(model.findings)
        title = joined(model.name, f"({model.code})", by=" ") if model.name else model.code
        shift = 0.0
        if mark := model.findings.mark("substation", model.code):
            part.mark(mark, 5, 9, model.findings.words("substation", model.code) or "")
            shift = 14.0
        part.text(shift, 14, title, "h", size=15, room=max(width - shift, 300))
        drawing.add(part, 0, 0)
        part = Part(model.findings)
        part.text(0, 10, NOTE, "q", size=9, room=1000)
        drawing.add(part, 0, bottom + 4)
        bottom += 16
        width = max(width, *(box.right for box in drawing.boxes))
    left = min([0.0, *(box.left for box in drawing.boxes)])
    drawing.svg = _wrap(drawing, model, left, width, bottom, standalone, dark, embed_style)
    return drawing


def _wrap(
    drawing: Picture, model: Model, left: float, right: float, bottom: float, standalone: bool, dark: bool, embed: bool
) -> str:
    x, y = left - MARGIN, -MARGIN / 2
    width, height = right - left + 2 * MARGIN, bottom + MARGIN
    name = f"ol-{zlib.crc32(model.code.encode('utf-8', 'replace')):08x}"
    title = f"One-line diagram of {shown(model.name or model.code)}"
    if model.name and model.code:
        title += f" ({shown(model.code)})"
    style = file_style(dark) if standalone else page_style() if embed else ""
    size = f"width='{n(width)}' height='{n(height)}' viewBox='{n(x)} {n(y)} {n(width)} {n(height)}'"
    return "".join(
        [
            f"<svg xmlns='http://www.w3.org/2000/svg' class='ol' role='img' {size} "
            f"aria-labelledby='{name}-title {name}-desc' data-substation={quoteattr(shown(model.code))}>",
            f"<title id='{name}-title'>{escape(title)}</title>",
            f"<desc id='{name}-desc'>{escape(clean_text(describe(model)))}</desc>",
            f"<style>{style}</style>" if style else "",
            f"<rect class='ol-g' x='{n(x)}' y='{n(y)}' width='{n(width)}' height='{n(height)}'/>" if standalone else "",
            *drawing.out,
            "</svg>",
        ]
    )


def _bands(drawing: Picture, layout: Layout) -> None:
    """A band behind each run of bars of one zone; dotted where its grounding is not known."""
    rows: dict[tuple[int, int], list[Bar]] = {}
    for bar in layout.bars:
        if bar.bus.zone:
            rows.setdefault((bar.bus.tier, bar.level), []).append(bar)
    for bars in rows.values():
        run: list[Bar] = []
        for bar in sorted(bars, key=lambda bar: bar.start):
            if run and bar.bus.zone is not run[0].bus.zone:
                _band(drawing, run)
                run = []
            run.append(bar)
        _band(drawing, run)


def _band(drawing: Picture, run: list[Bar]) -> None:
    zone = run[0].bus.zone
    assert zone is not None
    top = min(bar.y - bar.label.height for bar in run) - 3
    left, right, bottom = run[0].start - 7, max(bar.end for bar in run) + 7, run[0].y + 7
    look = f"ol-z ol-z{zone.position % 8 + 1}" + ("" if zone.grounding_class else " ol-u")
    drawing.out.append(
        f"<rect class='{look}' data-asset={quoteattr(clean_text('zone:' + zone.name))} x='{n(left)}' y='{n(top)}' "
        f"width='{n(right - left)}' height='{n(bottom - top)}' rx='3'>"
        f"<title>{escape(f'Zone {shown(zone.name)}')}</title></rect>"
    )


def _leads(drawing: Picture, layout: Layout) -> None:
    wires: list[str] = []
    dotted: list[str] = []
    dots: list[str] = []
    for hung in layout.hung:
        if hung.bar is None:
            continue
        end = hung.y + (hung.part.height if hung.up else 0)
        wires.append(_upright(layout, hung.x, hung.bar.y, end))
    for fall in layout.falls:
        x = fall.hung.x + fall.dx
        (dotted if fall.dotted else wires).append(_upright(layout, x, fall.hung.y + fall.dy, fall.bar.y))
    bars = {bar.bus.key: bar for bar in layout.bars}
    for jog in layout.jogs:
        if jog.riser is not None:
            x, bar = jog.hung.x + jog.dx, bars[jog.bus.key]
            across = f"M{n(x)} {n(jog.hung.y + jog.dy)}V{n(jog.y)}H{n(jog.riser)}"
            path = across + _upright(layout, jog.riser, jog.y, bar.y)
            (dotted if bar.bus.note else wires).append(path)
    for lying in layout.lying:
        middle = (lying.a.end + lying.b.start) / 2
        wires.append(line(lying.a.end, lying.a.y, middle - 13, lying.a.y))
        wires.append(line(middle + 13, lying.b.y, lying.b.start, lying.b.y))
    for bar in layout.bars:
        dots += [circle(x, bar.y, 2.6) for x in bar.taps]
    for data, look in ((wires, "w"), (dotted, "d"), (dots, "f")):
        if data:
            drawing.out.append(f"<path class='ol-{look}' d='{''.join(data)}'/>")


def _upright(layout: Layout, x: float, start: float, end: float) -> str:
    """A lead up or down to a bar, with a gap where it passes a bar that it is not connected to."""
    top, bottom = sorted((start, end))
    passed = sorted(bar.y for bar in layout.bars if bar.start - 1 <= x <= bar.end + 1 and top < bar.y < bottom)
    edges = [top, *(edge for y in passed for edge in (y - GAP, y + GAP)), bottom]
    return "".join(line(x, a, x, b) for a, b in zip(edges[::2], edges[1::2], strict=True))


def _mat(drawing: Picture, model: Model, width: float, y: float) -> float:
    """The ground mat as the lowest line, each grid on record in words under it."""
    part = Part(model.findings)
    look = "b" if model.grids else "d"
    ticks = "".join(f"M{x + 6} 2l-6 7" for x in range(0, int(width) - 8, 14))
    part.path(f"M0 0H{n(width)}", look)
    part.path(ticks, "w" if model.grids else "d")
    at = 22.0
    if not model.grids:
        part.text(0, at, "ground mat not on record", "q")
    for row in model.grids:
        tag = str(row["ground_grid"])
        measured = quantity(row, "measured_resistance", "ohm")
        when = (
            f"{'measured' if measured else 'dated'} {str(row['measured_on'])[:10]}" if row.get("measured_on") else None
        )
        area = quantity(row, "area", "m2")
        said = joined(measured or "measured resistance not on record", when, area)
        part.open("ground_grid", tag, f"Ground mat {tag}: {said}")
        part.head(0, at, "ground_grid", tag, more=f"ground mat, {said}", room=max(width, 480.0))
        part.close()
        at += ROW + 2
    drawing.add(part, 0, y)
    return y + at


def _notes(drawing: Picture, model: Model, width: float, y: float) -> float:
    """Findings on what is not drawn, and what is not in service."""
    part = Part(model.findings)
    room, at = max(width, 420.0), 0.0
    shown_assets = {tuple(each.split(":", 1)) for each in drawing.assets}
    kinds: dict[str, list[Any]] = {}
    for (kind, tag), rows in model.findings.by_asset.items():
        elsewhere = kind not in DRAWN or (kind not in ("zone", "substation") and (kind, tag) not in shown_assets)
        if elsewhere and any(row.get("status") != "waived" for row in rows):
            kinds.setdefault(kind, []).extend(rows)
    for kind, rows in sorted(kinds.items()):
        at += ROW + 1
        mark = worst_mark(rows)
        words = findings_in_words(rows)
        tags = ", ".join(sorted({str(row.get("asset")) for row in rows}))
        part.mark(mark, 5, at - 3.5, words)
        part.text(13, at, f"{kind_in_words(kind)} (not drawn): {words}: {tags}", "t", room=room - 13)
    if model.not_in_service:
        at += ROW + 1
        gone = ", ".join(f"{kind_in_words(kind)} {tag}" for kind, tag in model.not_in_service)
        part.text(0, at, f"Not in service, not drawn: {gone}", "q", room=room)
    if at:
        drawing.add(part, 0, y)
    return y + at
