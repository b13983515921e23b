"""What hangs on one bus or stands on it: infeeds, machines, lines, grounding and voltage transformers, arresters."""

from collections.abc import Sequence

from groundcheck.report.one_line import symbols
from groundcheck.report.one_line.model import Bus, Device, Join, Model, Neutral, Row
from groundcheck.report.one_line.neutrals import RELAY_PITCH, draw_device, draw_neutral, draw_relays
from groundcheck.report.one_line.part import ROW, Part
from groundcheck.report.one_line.symbols import line
from groundcheck.report.one_line.words import DETECTORS, joined, number, power, quantity, relay_line, shown, volts

LINES_APART = 6  # more lines than these out of one bus are drawn as a list
MANY = 3  # so are more arresters, or instrument transformers, of one bus
COLUMN = 20  # lines in a column of a list


def hanging_parts(model: Model, bus: Bus, up: bool) -> tuple[list[Part], list[Part]]:
    """Parts above the bus and parts below it; lines stand above where `up`."""
    here = model.hanging.get(bus.key, [])
    by_kind: dict[str, list[Row]] = {}
    for kind, row in here:
        by_kind.setdefault(kind, []).append(row)
    above = [_infeed(model, row) for row in by_kind.get("infeed", ())]
    below: list[Part] = []
    lines = by_kind.get("line", [])
    chosen = above if up else below
    if len(lines) > LINES_APART:
        chosen += [_line_list(model, lines[i : i + COLUMN], up) for i in range(0, len(lines), COLUMN)]
    else:
        chosen += [_line(model, row, up) for row in lines]
    below += [_generator(model, row) for row in by_kind.get("generator", ())]
    below += [_grounding_transformer(model, row) for row in by_kind.get("grounding_transformer", ())]
    watched = [row for row in by_kind.get("instrument_transformer", ()) if _shown(model, row)]
    below += [_instrument_transformer(model, row) for row in watched]
    below += [_detector(model, row) for row in by_kind.get("ground_detector", ())]
    arresters = by_kind.get("arrester", [])
    below += [_arresters(model, arresters)] if len(arresters) > MANY else [_arrester(model, row) for row in arresters]
    if relays := model.relays.get(("bus", bus.tag)):
        part = Part(model.findings)
        end = draw_relays(part, relays, 0, 8, 1)
        part.path(line(0, 0, 0, end - RELAY_PITCH / 2 - 1))
        below.append(part)
    return above, below


def _shown(model: Model, row: Row) -> bool:
    """Voltage transformers; current transformers where a relay or a finding names them."""
    tag = str(row["instrument_transformer"])
    if row.get("kind") != "ct" or ("instrument_transformer", tag) in model.relays:
        return True
    return model.findings.mark("instrument_transformer", tag) is not None


def _infeed(model: Model, row: Row) -> Part:
    part, tag = Part(model.findings), str(row["infeed"])
    levels = joined(
        quantity(row, "fault_level_3ph", "MVA") or quantity(row, "fault_current_3ph", "kA"),
        (one := quantity(row, "fault_current_1ph", "kA")) and f"L-G {one}",
    )
    grounded = {True: "grounded", False: "not grounded"}.get(row.get("grounded"), "grounding not on record")  # type: ignore[arg-type]
    part.open("infeed", tag, f"Infeed {tag}: {levels or 'fault level not on record'}, {grounded}")
    part.symbol(symbols.network(0, 14), (-11, 14, 11, 36), "s", "network")
    part.head(16, 15, "infeed", tag)
    part.text(16, 15 + ROW, levels or "fault level not on record")
    part.text(16, 15 + 2 * ROW, grounded, "t" if row.get("grounded") is not None else "q")
    part.close()
    part.path(line(0, 36, 0, 46))
    part.height = 46
    return part


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


def _line(model: Model, row: Row, up: bool) -> Part:
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


def _line_list(model: Model, rows: Sequence[Row], up: bool) -> Part:
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


def _generator(model: Model, row: Row) -> Part:
    part, tag = Part(model.findings), str(row["generator"])
    relays = model.relays.get(("generator", tag), [])
    winding = row.get("winding")
    rating = joined(power(row.get("rated_power")), quantity(row, "rated_voltage", "kV"), by=" ")
    part.open("generator", tag, f"Generator {tag}: {rating}, winding {winding or 'not on record'}")
    part.path(line(0, 0, 0, 10))
    part.symbol(symbols.circle(0, 26, 16), (-16, 10, 16, 42), "s", "generator")
    part.text(0, 28, "G", "h", 0, 13)
    part.boxes.pop()
    part.path("M-6 34q3 -5 6 0t6 0")
    part.head(21, 18, "generator", tag)
    part.text(21, 18 + ROW, rating or "rating not on record")
    part.text(21, 18 + 2 * ROW, shown(winding) if winding else "winding not on record", "t" if winding else "q")
    part.close()
    below = 42 + 8.0
    if relays:
        below = draw_relays(part, relays, 0, below, 1)
    neutral = model.neutrals.get(("generator", tag))
    if neutral and (neutral.devices or neutral.brought_out is not False):
        part.path(line(0, 42, 0, below), "w" if neutral.brought_out else "d")
        draw_neutral(part, model, 0, below, 1, neutral, tag)
    part.height = max(part.height, 46)
    return part


def _grounding_transformer(model: Model, row: Row) -> Part:
    part, tag = Part(model.findings), str(row["grounding_transformer"])
    relays = model.relays.get(("grounding_transformer", tag), [])
    connection = row.get("connection")
    word = {"zigzag": "zigzag", "wye_delta": "wye-delta"}.get(connection or "", shown(connection or "connection?"))
    rating = joined(quantity(row, "rated_neutral_current", "A"), quantity(row, "rated_time", "s"))
    z0 = quantity(row, "z0", "ohm/phase")
    part.open("grounding_transformer", tag, f"Grounding transformer {tag}: {word}, {rating or 'rating not on record'}")
    part.path(line(0, 0, 0, 10))
    part.symbol(symbols.circle(0, 24, 14), (-14, 10, 14, 38), "s", "grounding transformer")
    if connection == "wye_delta":
        part.path(symbols.star(-5, 24, 4) + symbols.delta(6, 24, 4))
    elif connection:
        part.path(symbols.zigzag(0, 25))
    part.head(19, 17, "grounding_transformer", tag)
    part.text(19, 17 + ROW, joined(word, rating or "rating not on record"))
    part.text(19, 17 + 2 * ROW, f"Z0 {z0}" if z0 else "Z0 not on record", "t" if z0 else "q")
    part.close()
    below = 46.0
    part.path(line(0, 38, 0, below))
    if relays:
        below = draw_relays(part, relays, 0, below, 1, lead=True)
    neutral = model.neutrals.get(("grounding_transformer", tag))
    if neutral:
        draw_neutral(part, model, 0, below, 1, neutral, tag)
    return part


def _instrument_transformer(model: Model, row: Row) -> Part:
    part, tag = Part(model.findings), str(row["instrument_transformer"])
    relays = model.relays.get(("instrument_transformer", tag), [])
    detectors = model.detectors.get(tag, [])
    connection = shown(row.get("connection") or "")
    kind = row.get("kind")
    what = "Current" if kind == "ct" else "Voltage"
    sides = [row[side] for side in ("primary", "secondary") if row.get(side) is not None]
    ratio = joined(*(f"{number(side)} A" if kind == "ct" else volts(side) for side in sides), by=" / ")
    part.open(
        "instrument_transformer",
        tag,
        joined(f"{what} transformer {tag}", connection, ratio),
    )
    if kind == "ct":
        part.path(line(0, 0, 0, 34))
        part.symbol(symbols.circle(0, 18, 7), (-7, 11, 7, 25), "n", "current transformer")
        part.path("M7 18h6M9 21l3 -6")
    else:
        broken = any(word in connection.lower() for word in ("broken", "open"))
        part.path(line(0, 0, 0, 8))
        part.symbol(symbols.circle(0, 17, 9) + symbols.circle(0, 30, 9), (-9, 8, 9, 39), "n", "voltage transformer")
        part.path(symbols.star(0, 15, 3.5) + (symbols.open_delta(0, 32, 3) if broken else symbols.star(0, 33, 3.5)))
    part.head(16, 15, "instrument_transformer", tag)
    part.text(16, 15 + ROW, ratio or "ratio not on record", "t" if ratio else "q")
    if connection:
        part.text(16, 15 + 2 * ROW, connection, "q")
    part.close()
    y = 15 + 3 * ROW
    for detector in detectors:
        _detector_row(part, detector, 16, y + 2)
        y += ROW + 2
    if relays:
        y -= 5
        end = draw_relays(part, relays, 0, y, 1)
        part.path(line(0, 39 if kind != "ct" else 34, 0, end - RELAY_PITCH / 2 - 1), "d")
    part.height = max(part.height, 44)
    return part


def _detector_row(part: Part, row: Row, x: float, y: float) -> None:
    tag = str(row["ground_detector"])
    method = DETECTORS.get(row.get("method") or "", shown(row.get("method") or "method not on record"))
    part.open("ground_detector", tag, f"Ground detector {tag}: {method}")
    part.head(x, y, "ground_detector", tag, more=method)
    part.close()


def _detector(model: Model, row: Row) -> Part:
    """A detector that no voltage transformer on record feeds."""
    part, tag = Part(model.findings), str(row["ground_detector"])
    method = DETECTORS.get(row.get("method") or "", shown(row.get("method") or "method not on record"))
    part.open("ground_detector", tag, f"Ground detector {tag}: {method}")
    part.path(line(0, 0, 0, 10))
    if row.get("method") == "lamps":
        part.symbol(
            symbols.circle(0, 18, 8) + "M-5.7 12.3l11.3 11.3M5.7 12.3l-11.3 11.3", (-8, 10, 8, 26), "s", "lamps"
        )
        part.path(line(0, 26, 0, 32) + symbols.ground(0, 32))
    else:
        part.symbol("M-11 10h22v15h-22z", (-11, 10, 11, 25), "s", "detector")
        part.text(0, 21, "ohm" if row.get("method") == "insulation_monitor" else "3U0", "t", 0, 8)
        part.boxes.pop()
        part.path(line(0, 25, 0, 32) + symbols.ground(0, 32))
    part.head(16, 18, "ground_detector", tag)
    part.text(16, 18 + ROW, method, "q")
    part.close()
    part.height = max(part.height, 42)
    return part


def _arrester_words(row: Row) -> str:
    at = "neutral" if row.get("position") == "neutral" else None
    return joined(quantity(row, "rated_voltage", "kV") or "rating?", at)


def _arrester(model: Model, row: Row) -> Part:
    part, tag = Part(model.findings), str(row["arrester"])
    words = _arrester_words(row)
    part.open("arrester", tag, f"Arrester {tag}: {words}, MCOV {quantity(row, 'mcov', 'kV') or 'not on record'}")
    part.path(line(0, 0, 0, 10))
    part.symbol(symbols.arrester(0, 10), (-6, 10, 6, 36), "s", "arrester")
    part.path(line(0, 36, 0, 40) + symbols.ground(0, 40))
    part.head(12, 20, "arrester", tag)
    part.text(12, 20 + ROW, words, "q")
    part.close()
    part.height = 50
    return part


def _arresters(model: Model, rows: Sequence[Row]) -> Part:
    """Many arresters as a list beside one symbol."""
    part = Part(model.findings)
    part.path(line(0, 0, 0, 10))
    part.symbol(symbols.arrester(0, 10), (-6, 10, 6, 36), "s", "arresters")
    part.path(line(0, 36, 0, 40) + symbols.ground(0, 40))
    for place, row in enumerate(rows):
        tag, words = str(row["arrester"]), _arrester_words(row)
        part.open("arrester", tag, f"Arrester {tag}: {words}")
        part.head(12, 16 + place * 14, "arrester", tag, more=words)
        part.close()
    part.height = max(50, part.height)
    return part


def join_part(model: Model, join: Join) -> Part:
    """A switch or a line between two buses of which the lead goes on from (0, height)."""
    if join.kind == "line":
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
