"""Questions about stations that may be one under several names."""

from groundcheck.ingest.assets.identity import tag_key
from groundcheck.ingest.assets.named_stations import NamedStation
from groundcheck.ingest.assets.station_proposals import propose_same_stations
from groundcheck.ingest.book import Book
from groundcheck.ingest.toml_text import quoted

MOST_ASKED = 50  # questions of one kind; more are counted, for nobody answers them one by one


def ask_same_stations(known: dict[str, NamedStation], titles: dict[str, str], book: Book) -> None:
    """Ask of each name that may be another station's whether it is; nothing is merged."""
    rows = {station.name: station.rows for station in known.values()}
    recorded = [station.name for station in known.values() if station.recorded]
    spelled = {known[tag_key(name)].name: title for name, title in titles.items() if tag_key(name) in known}
    proposed = propose_same_stations(rows, recorded, spelled)
    for pair in proposed[:MOST_ASKED]:
        sheet, cell = known[tag_key(pair.found)].place(book)
        answer = f"[same_station] {quoted(pair.found)} = {quoted(pair.meant)}"
        book.ask("station", pair.found, [pair.meant], sheet=sheet, cell=cell, cells=rows[pair.found], answer=answer)
    more = proposed[MOST_ASKED:]
    if more:
        waiting = sum(rows[pair.found] for pair in more)
        listed = "the command `groundcheck columns` lists all of them"
        book.ask("station", f"{len(more):,} more names like these", [listed], cells=waiting)
