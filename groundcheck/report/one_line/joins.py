"""Switches and lines between two buses of the station; what is connected to nothing known."""

from groundcheck.report.one_line import symbols
from groundcheck.report.one_line.feeders import line_between
from groundcheck.report.one_line.findings import Row
from groundcheck.report.one_line.model import Device, Join, Model, Neutral
from groundcheck.report.one_line.neutrals import draw_device, draw_relays
from groundcheck.report.one_line.part import ROW, Part
from groundcheck.report.one_line.symbols import line


def join_part(model: Model, join: Join) -> Part:
    """A switch or a line between two buses of which the lead goes on from (0, height)."""
    if join.kind == "line":
        return line_between(model, join)
    part = Part(model.findings)
    tag, state = str(join.row["switch"]), join.row.get("normal_state")
    part.open("switch", tag, f"Switch {tag} between {join.a.tag} and {join.b.tag}: {state or 'state not on record'}")
    blade = {"closed": "M0 8V30", "open": "M0 30L-11 11"}.get(state or "")
    part.path("M0 0V8M0 30V38")
    part.path(blade or "M0 30L-7 9", "w" if blade else "d")
    part.symbol(symbols.circle(0, 8, 2) + symbols.circle(0, 30, 2), (-11, 6, 3, 32), "f", "switch")
    part.head(10, 16, "switch", tag)
    part.text(10, 16 + ROW, state or "state not on record", "t" if state else "q")
    part.close()
    part.height = 40
    return part


def coupler(model: Model, join: Join) -> Part:
    """A switch lying between the ends of two bars, about its middle."""
    part = Part(model.findings)
    tag, state = str(join.row["switch"]), join.row.get("normal_state")
    part.open("switch", tag, f"Switch {tag} between {join.a.tag} and {join.b.tag}: {state or 'state not on record'}")
    blade = {"closed": "M-11 0H11", "open": "M-11 0L8 -11"}.get(state or "")
    part.path(blade or "M-11 0L8 -11", "w" if blade else "d")
    part.symbol(symbols.circle(-11, 0, 2) + symbols.circle(11, 0, 2), (-13, -11, 13, 3), "f", "switch")
    part.text(0, -15, state or "state ?", "t" if state else "q", 0)
    mark = model.findings.mark("switch", tag)
    width = part.text(6 if mark else 0, -27, tag, "h", 0, room=110)
    if mark:
        part.mark(mark, -width / 2 - 2, -30.5, model.findings.words("switch", tag) or "")
    part.close()
    return part


def loose_part(model: Model, kind: str, row: Row, why: str) -> Part:
    """What the record does not connect to anything known."""
    part, tag = Part(model.findings), str(row[kind])
    part.path(line(0, 0, 0, 14), "d")
    part.text(0, -4, "?", "h", 0)
    if kind == "ground_relay":
        draw_relays(part, [row], 0, 10, 1)
        part.text(8, 46, why, "q", room=240)
    else:
        draw_device(part, model, 0, 14, 1, Device(row, tag, True), Neutral(True), "nothing on record")
        part.text(14, part.height + ROW, why, "q", room=240)
    part.height += 6
    return part
