"""A copy of a workbook in memory, with parts of it written anew so that calamine reads them whole."""

import io
import zipfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from groundcheck.ingest.sheets import Position


class Damaged(Exception):
    """A workbook that is not whole; the text says why."""


@dataclass(frozen=True)
class Amended:
    """A part of a workbook written anew; the cells taken out of it, and a sheet of these alone, a row each."""

    content: Iterable[bytes]
    strays: list[Position] = field(default_factory=list)
    stray_sheet: bytes = b""


def replace_parts(workbook: bytes, parts: Mapping[str, Iterable[bytes]]) -> bytes:
    """The workbook with some of its parts replaced."""
    copy = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(workbook)) as archive,
        zipfile.ZipFile(copy, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as out,
    ):
        for name in dict.fromkeys(archive.namelist()):
            with out.open(name, "w", force_zip64=True) as stream:
                if name in parts:
                    for block in parts[name]:
                        stream.write(block)
                else:
                    with archive.open(name) as part:
                        while read := part.read(1 << 20):
                            stream.write(read)
    return copy.getvalue()
