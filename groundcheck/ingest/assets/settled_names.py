"""One name for each station and one tag for each asset, as far as records and column map say so; questions else."""

from groundcheck.ingest.assets.identity import tag_key
from groundcheck.ingest.assets.named_stations import named_stations, titles
from groundcheck.ingest.assets.one_name import names_in_references, rename_stations
from groundcheck.ingest.assets.renamed import Renamed
from groundcheck.ingest.assets.same_stations import declared_names
from groundcheck.ingest.assets.same_tags import rename_tags
from groundcheck.ingest.assets.station_questions import ask_same_stations
from groundcheck.ingest.mapping.column_map import ColumnMap
from groundcheck.ingest.tables.layouts import Reading


def settle_names(reading: Reading, column_map: ColumnMap) -> tuple[dict[str, str], list[Renamed]]:
    """
    Rename stations and assets in the records, in place; gives the name that other keys stand for, and what was renamed.

    Raises
    ------
    ColumnMapError
        The map names a station or a tag that no source names.
    """
    records, book = reading.records, reading.book
    known = named_stations(records)
    told = column_map.same_station or column_map.same_tag
    elsewhere = names_in_references(records, book) if told else set()
    names = declared_names(records, known, elsewhere, column_map, book)
    renamed: list[Renamed] = []
    other_names = rename_stations(records, reading.answers, names, renamed)
    if other_names:
        known = named_stations(records)
    stations = {tag_key(name): name for name in elsewhere} | {key: station.name for key, station in known.items()}
    rename_tags(records, column_map, stations, other_names, renamed)
    ask_same_stations(known, titles(records), book)
    return other_names, renamed


def spell_other_names(stations: dict[str, str], other_names: dict[str, str]) -> None:
    """Let the other names of stations be known with the spelling that was settled on, in place."""
    for key, name in other_names.items():
        stations[key] = stations.get(tag_key(name), name)
