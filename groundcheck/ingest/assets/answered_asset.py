"""Why the asset of an answer is not on record, and what to do about it."""

import pandas as pd

from groundcheck.ingest.answers.reading import Answer
from groundcheck.ingest.assets.frame_rows import plain_list
from groundcheck.ingest.assets.identity import tag_key, tag_keys
from groundcheck.ingest.book import Book
from groundcheck.nearest import nearest_few
from groundcheck.schema import INVENTORY_TABLES


def why_not_found(answer: Answer, frames: dict[str, pd.DataFrame], book: Book) -> str:
    """What was expected in place of the asset that an answer names."""
    kind = answer.kind.replace("_", " ")
    for told in book.out_of_service:
        same = tag_key(told["substation"]) == tag_key(answer.station) and tag_key(told["asset"]) == tag_key(
            answer.asset
        )
        if same and told["asset_kind"] == answer.kind:
            return f"an asset in service: this {kind} is on record as {told['status']}, which is kept and not studied"
    waiting = [book.quarantined[row] for row in sorted(answer.record_rows) if row in book.quarantined]
    if waiting:
        entry = waiting[0]
        where = f"cell {entry['cell']}" if entry["cell"] else f"row {entry['row']}"
        return (
            f"a {kind} on record: its row waits in quarantine ({entry['file']}, sheet {entry['sheet']}, {where}); "
            "correct that first"
        )
    stations = sorted({station for frame in frames.values() for station in frame["substation"].dropna().unique()})
    frame = frames[answer.kind]
    if answer.kind == "substation" or tag_key(answer.station) not in set(map(tag_key, stations)):
        return f"a station on record{_near(answer.station, stations)}"
    here = (tag_keys(frame["substation"]) == tag_key(answer.station)).to_numpy(dtype=bool)
    tags = plain_list(frame[INVENTORY_TABLES[answer.kind].asset_column()][here])
    return f"a {kind} on record at {answer.station}{_near(answer.asset, tags)}; or enter the asset in a register first"


def _near(name: str, known: list[str]) -> str:
    near = nearest_few(name, known)
    return f", such as {'; '.join(near)}" if near else ""
