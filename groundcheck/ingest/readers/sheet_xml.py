"""The XML of one .xlsx sheet in blocks of whole rows, so that a sheet of any length takes little memory."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import IO

from openpyxl.utils import column_index_from_string

_BLOCK = 1 << 17
_ROOT = re.compile(rb"<(\w+:)?worksheet\b")


@dataclass(frozen=True)
class Block:
    """What stands before the rows ('head'), some whole rows ('rows'), or what stands after them ('tail')."""

    kind: str
    content: bytes
    prefix: bytes = b""


def read_blocks(stream: IO[bytes]) -> Iterator[Block]:
    """The sheet, block by block: one head, rows, one tail."""
    held = b""
    row, end, prefix = b"", b"", b""
    kind = "head"
    while True:
        read = stream.read(_BLOCK)
        held += read
        if kind == "head":
            root = _ROOT.search(held)
            if root:
                prefix = root[1] or b""
                row, end = b"<" + prefix + b"row", b"</" + prefix + b"sheetData>"
                starts = [
                    found for found in (held.find(row + b" "), held.find(row + b">"), held.find(end)) if found > 0
                ]
                if starts:
                    yield Block("head", held[: min(starts)], prefix)
                    held, kind = held[min(starts) :], "rows"
        if kind == "rows":
            # Not of '<rowBreaks', which may follow the rows.
            cut = max(held.rfind(row + b" "), held.rfind(row + b">"), 0)
            stop = held.find(end, cut)
            cut = stop if stop >= 0 else cut
            if cut > 0:
                yield Block("rows", held[:cut], prefix)
                held = held[cut:]
            kind = "tail" if stop >= 0 else kind
        if not read:
            yield Block(kind, held, prefix)
            return


@cache
def column_number(letters: bytes) -> int:
    """The column of a cell's name, from 0."""
    return column_index_from_string(letters.decode("ascii")) - 1
