"""Wires of a drawing as straight pieces, read back from its SVG."""

import re
from collections.abc import Iterator
from xml.etree import ElementTree

NAMESPACE = "{http://www.w3.org/2000/svg}"
Piece = tuple[float, float, float, float]


def wires(svg: str, *, leads_only: bool = False) -> Iterator[Piece]:
    """Straight pieces of wires and bars; `leads_only` leaves out what belongs to a part."""
    yield from _within(ElementTree.fromstring(svg), 0.0, 0.0, leads_only)


def _within(element: ElementTree.Element, x: float, y: float, leads_only: bool) -> Iterator[Piece]:
    for each in element:
        if each.tag == f"{NAMESPACE}g":
            moved = re.fullmatch(r"translate\((\S+) (\S+)\)", each.get("transform") or "translate(0 0)")
            assert moved, each.get("transform")
            if not (leads_only and each.get("transform")):
                yield from _within(each, x + float(moved[1]), y + float(moved[2]), leads_only)
        elif each.tag == f"{NAMESPACE}path" and (each.get("class") or "").split()[0] in ("ol-w", "ol-d", "ol-b"):
            for a, b, c, d in _pieces(each.get("d") or ""):
                yield a + x, b + y, c + x, d + y


def _pieces(data: str) -> Iterator[Piece]:
    """Of a path's data: lines as they are, curves as the line between their ends."""
    x = y = x0 = y0 = 0.0
    for command, numbers in re.findall(r"([A-Za-z])([^A-Za-z]*)", data):
        values = [float(each) for each in re.findall(r"-?\d*\.?\d+", numbers)]
        size = {"H": 1, "V": 1, "M": 2, "L": 2, "T": 2, "Q": 4, "S": 4, "C": 6, "A": 7, "Z": 0}[command.upper()]
        for start in range(0, len(values), size) if size else (0,):
            given = values[start : start + size]
            was, relative = (x, y), command.islower()
            if command in "Hh":
                x = given[0] + (x if relative else 0.0)
            elif command in "Vv":
                y = given[0] + (y if relative else 0.0)
            elif command in "Zz":
                x, y = x0, y0
            else:
                x, y = given[-2] + (x if relative else 0.0), given[-1] + (y if relative else 0.0)
            if command in "Mm" and start == 0:
                x0, y0 = x, y
            else:
                yield (*was, x, y)


def crosses(piece: Piece, left: float, top: float, right: float, bottom: float) -> bool:
    """Whether a straight piece enters a box."""
    x, y, dx, dy = piece[0], piece[1], piece[2] - piece[0], piece[3] - piece[1]
    enter, leave = 0.0, 1.0
    for step, low, high in ((dx, left - x, right - x), (dy, top - y, bottom - y)):
        if step == 0:
            if low >= 0 or high <= 0:
                return False
        else:
            first, last = sorted((low / step, high / step))
            enter, leave = max(enter, first), min(leave, last)
    return enter < leave
