"""Surge arresters at a bus."""

from collections.abc import Sequence

from groundcheck.report.one_line import symbols
from groundcheck.report.one_line.findings import Row
from groundcheck.report.one_line.model import Model
from groundcheck.report.one_line.part import ROW, Part
from groundcheck.report.one_line.symbols import line
from groundcheck.report.one_line.words import joined, quantity


def _arrester_words(row: Row) -> str:
    at = "neutral" if row.get("position") == "neutral" else None
    return joined(quantity(row, "rated_voltage", "kV") or "rating?", at)


def arrester(model: Model, row: Row) -> Part:
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


def arresters(model: Model, rows: Sequence[Row]) -> Part:
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
