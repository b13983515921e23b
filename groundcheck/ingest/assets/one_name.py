"""Writing the one name of each station in all records and answers."""

import re

import numpy as np
import pandas as pd

from groundcheck.ingest.answers.reading import Answer
from groundcheck.ingest.assets.frame_rows import plain_list
from groundcheck.ingest.assets.identity import tag_key
from groundcheck.ingest.assets.inference import within
from groundcheck.ingest.assets.references import reference_columns
from groundcheck.ingest.assets.renamed import Renamed
from groundcheck.ingest.assets.same_stations import OneName
from groundcheck.ingest.book import Book
from groundcheck.ingest.tables.records import Records
from groundcheck.ingest.tables.typed_values import text_series


def names_in_references(records: list[Records], book: Book) -> set[str]:
    """The stations that references name: as STATION:TAG, or in a bus's tag where the column map reads them from it."""
    found: set[str] = set()
    for part in records:
        pattern = part.feed.entry.bus_station if part.feed.entry is not None else None
        for column in reference_columns(part.feed.table):
            if column.name not in part.values:
                continue
            for raw_row, written in zip(part.raw_rows, plain_list(part.values[column.name]), strict=True):
                for tag in written if isinstance(written, list) else [written]:
                    if not isinstance(tag, str):
                        continue
                    if ":" in tag:
                        found.add(tag.partition(":")[0].strip())
                    elif pattern is not None and column.refers_to == ("bus",) and (match := re.search(pattern, tag)):
                        found.add(within(part, raw_row, book) + match[1])
    return found


def rename_stations(
    records: list[Records], answers: list[Answer], names: OneName, renamed: list[Renamed]
) -> dict[str, str]:
    """
    Write the one name in all records and answers, in place, and add to what is `renamed`.

    Returns the name that each key stands for.
    """
    spelled = {key: names.spelling[names.root(key)] for key in names.meant}
    if not spelled:
        return spelled
    for part in records:
        if "substation" in part.values and part.rows:
            _rename(part, spelled, names, renamed)
    for answer in answers:
        if answer.kind == "substation":
            answer.asset = spelled.get(tag_key(answer.asset), answer.asset)
        answer.station = spelled.get(tag_key(answer.station), answer.station)
    return spelled


def _rename(part: Records, spelled: dict[str, str], names: OneName, renamed: list[Renamed]) -> None:
    codes, distinct = pd.factorize(part.values["substation"])
    written = distinct.tolist()
    meant = [spelled.get(tag_key(name), name) for name in written]
    if meant == written:
        return
    part.values["substation"] = text_series([*meant, None], take=codes)
    for code, (name, other) in enumerate(zip(written, meant, strict=True)):
        if other != name and part.feed.primary:
            rows = [part.raw_rows[place] for place in np.flatnonzero(codes == code).tolist()]
            why = f"another name of the station: {names.says[tag_key(name)]}"
            renamed.append(Renamed(part, "substation", tag_key(name), rows, other, why))
