"""Sources and grounding transformers at a bus."""

from groundcheck.report.one_line import symbols
from groundcheck.report.one_line.findings import Row
from groundcheck.report.one_line.model import Model
from groundcheck.report.one_line.neutrals import draw_neutral, draw_relays
from groundcheck.report.one_line.part import ROW, Part
from groundcheck.report.one_line.symbols import line
from groundcheck.report.one_line.words import joined, power, quantity, shown


def infeed(model: Model, row: Row) -> Part:
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


def generator(model: Model, row: Row) -> Part:
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


def grounding_transformer(model: Model, row: Row) -> Part:
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
