"""Each station with its findings, read side by side."""

from collections.abc import Iterator, Sequence

from groundcheck.report.facts import FindingFacts, StationFacts, finding_facts, station_facts
from groundcheck.report.page.stations_index import chunk_name
from groundcheck.report.rows import fetch
from groundcheck.store import Store

Pair = tuple[StationFacts | None, list[FindingFacts]]

_BASIS_LIMIT = 8


def names_told(store: Store) -> list[str]:
    """Every station on record, and what findings name besides, in order."""
    query = "SELECT substation FROM inventory.substation UNION SELECT substation FROM audit.finding"
    return sorted(name for (name,) in fetch(store, query) if name is not None)


def name_of(station: StationFacts | None, findings: Sequence[FindingFacts]) -> str:
    """The name of the file that holds the details of both."""
    return chunk_name((station["substation"] if station else findings[0]["substation"]) or "")


def stations_with_findings(store: Store, names: Sequence[str] | None = None) -> Iterator[Pair]:
    """
    Every station with its findings, by name, then the findings of what is no station on record.

    With `names` those only. All of their findings are held at once, as clean names need not be in the store's order.
    """
    own: dict[str, list[FindingFacts]] = {}
    for finding in finding_facts(store, substations=names, basis_limit=_BASIS_LIMIT):
        own.setdefault(finding["substation"] or "", []).append(finding)
    for station in station_facts(store, names):
        yield station, own.pop(station["substation"], [])
    for findings in own.values():
        yield None, findings
