"""What hangs on one bus or stands on it, in its order from left to right."""

from groundcheck.report.one_line.arresters import arrester, arresters
from groundcheck.report.one_line.feeders import line_list, line_part
from groundcheck.report.one_line.findings import Row
from groundcheck.report.one_line.instruments import detector_part, instrument_transformer
from groundcheck.report.one_line.machines import generator, grounding_transformer, infeed
from groundcheck.report.one_line.model import Bus, Model
from groundcheck.report.one_line.neutrals import RELAY_PITCH, draw_relays
from groundcheck.report.one_line.part import Part
from groundcheck.report.one_line.symbols import line

LINES_APART = 6  # more lines than these out of one bus are drawn as a list
MANY = 3  # so are more arresters, or instrument transformers, of one bus
COLUMN = 20  # lines in a column of a list


def hanging_parts(model: Model, bus: Bus, up: bool) -> tuple[list[Part], list[Part]]:
    """Parts above the bus and parts below it; lines stand above where `up`."""
    here = model.hanging.get(bus.key, [])
    by_kind: dict[str, list[Row]] = {}
    for kind, row in here:
        by_kind.setdefault(kind, []).append(row)
    above = [infeed(model, row) for row in by_kind.get("infeed", ())]
    below: list[Part] = []
    lines = by_kind.get("line", [])
    chosen = above if up else below
    if len(lines) > LINES_APART:
        chosen += [line_list(model, lines[i : i + COLUMN], up) for i in range(0, len(lines), COLUMN)]
    else:
        chosen += [line_part(model, row, up) for row in lines]
    below += [generator(model, row) for row in by_kind.get("generator", ())]
    below += [grounding_transformer(model, row) for row in by_kind.get("grounding_transformer", ())]
    watched = [row for row in by_kind.get("instrument_transformer", ()) if _shown(model, row)]
    below += [instrument_transformer(model, row) for row in watched]
    below += [detector_part(model, row) for row in by_kind.get("ground_detector", ())]
    protecting = by_kind.get("arrester", [])
    below += [arresters(model, protecting)] if len(protecting) > MANY else [arrester(model, row) for row in protecting]
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
