"""Lines: out of a bus, one by one or as a list, and between two buses of the station."""

from collections.abc import Sequence

from groundcheck.report.one_line import symbols
from groundcheck.report.one_line.findings import Row
from groundcheck.report.one_line.model import Join, Model
from groundcheck.report.one_line.neutrals import RELAY_PITCH, draw_relays
from groundcheck.report.one_line.part import ROW, Part
from groundcheck.report.one_line.symbols import line
from groundcheck.report.one_line.words import joined, quantity, relay_line, shown


def _where(model: Model, row: Row) -> tuple[str, str]:
    far, length = row.get("far"), quantity(row, "length", "km")
    kind = {"cable": "cable", "overhead": "overhead", "aerial_cable": "aerial cable"}.get(
        row.get("construction") or "", shown(row.get("construction") or "line")
    )
    return f"to {shown(far)}" if far else "radial", joined(length or "length?", kind, by=" ")


def _own(model: Model, row: Row) -> tuple[str, str | None, bool]:
    """Tag of a line, how a page finds it if another station records it, whether it is this station's."""
    tag, station = str(row["line"]), row.get("substation", model.code)
    own = station == model.code
    return tag, None if own else f"{station}:{tag}", own


def line_part(model: Model, row: Row, up: bool) -> Part:
    part = Part(model.findings)
    tag, key, own = _own(model, row)
    relays = model.relays.get(("line", tag), []) if own else []
    where, how = _where(model, row)
    tall = 3 * ROW + 14 + len(relays) * RELAY_PITCH
    start = 10.0 if up else tall - 3 * ROW + 4
    part.open(
        "line", tag, f"Line {tag} {where}, {how}" + ("" if own else f", on the record of {row['substation']}"), key
    )
    if up:
        part.path(line(0, 9, 0, tall))
        part.symbol(symbols.up_arrow(0, 0), (-4, 0, 4, 9), "f", "line")
    else:
        part.path(line(0, 0, 0, tall - 9))
        part.symbol(symbols.down_arrow(0, tall), (-4, tall - 9, 4, tall), "f", "line")
    part.head(10, start, "line", tag, own=own)
    part.text(10, start + ROW, where)
    part.text(10, start + 2 * ROW, how, "q")
    part.close()
    draw_relays(part, relays, 0, 3 * ROW + 3 if up else 2, 1)
    part.height = tall
    return part


def line_list(model: Model, rows: Sequence[Row], up: bool) -> Part:
    """Many lines as a list beside one arrow."""
    part = Part(model.findings)
    tall = len(rows) * 15 + 18.0
    part.path(line(0, 9 if up else 0, 0, tall if up else tall - 9))
    arrow = (-4, 0, 4, 9) if up else (-4, tall - 9, 4, tall)
    part.symbol(symbols.up_arrow(0, 0) if up else symbols.down_arrow(0, tall), arrow, "f", "lines")
    y = 12.0
    for row in rows:
        tag, key, own = _own(model, row)
        where, how = _where(model, row)
        part.open("line", tag, f"Line {tag} {where}, {how}", key)
        part.path(f"M0 {y - 3:g}h6")
        wide = 10 + part.head(10, y, "line", tag, own=own)
        words = joined(where, how)
        wide += 6 + part.text(wide + 6, y, words, "q", room=170)
        part.close()
        for relay in model.relays.get(("line", tag), []) if own else []:
            name, function = str(relay.get("ground_relay")), shown(relay.get("function") or "?")
            part.open("ground_relay", name, f"Ground relay {name}, {function}, on {tag}: {relay_line(relay)}")
            if model.findings.mark("ground_relay", name):
                wide += 10
                part.mark(model.findings.mark("ground_relay", name), wide + 4, y - 3, "")  # type: ignore[arg-type]
                wide += 6
            wide += 8 + part.text(wide + 8, y, f"({function[:8]}) {shown(name)}", room=90)
            part.close()
        y += 15
    part.height = tall
    return part


def line_between(model: Model, join: Join) -> Part:
    """A line between two buses of the station, of which the lead goes on from (0, height)."""
    part = Part(model.findings)
    tag = str(join.row["line"])
    _, how = _where(model, join.row)
    relays = model.relays.get(("line", tag), [])
    part.open("line", tag, f"Line {tag} from {join.a.tag} to {join.b.tag}, {how}")
    tall = 2 * ROW + 10 + len(relays) * RELAY_PITCH
    part.path(line(0, 0, 0, tall))
    part.head(8, 12, "line", tag)
    part.text(8, 12 + ROW, how, "q")
    part.close()
    draw_relays(part, relays, 0, 2 * ROW + 5, 1)
    part.height = tall
    return part
