"""Stations to draw: the sample fleet as audited, generated ones as recorded."""

from typing import Any

import numpy as np
import pytest
from generated_fleet.stations import KINDS, sound_station
from report.one_line.stations import station

from groundcheck.report.facts import finding_facts, station_facts
from groundcheck.store import Store


@pytest.fixture(scope="session")
def sample(sample_store: Store) -> list[tuple[Any, list[Any]]]:
    """Stations of the sample fleet with their findings."""
    findings = list(finding_facts(sample_store))
    return [
        (station, [each for each in findings if each["substation"] == station["substation"]])
        for station in station_facts(sample_store)
    ]


@pytest.fixture(scope="session")
def generated() -> list[dict[str, Any]]:
    """Stations of every kind, straight from their records; nothing has been computed of them."""
    found = []
    for kind in KINDS:
        by_station: dict[str, dict[str, list[Any]]] = {}
        for table, rows in sound_station(kind, kind.upper(), np.random.default_rng(1)).items():
            for row in rows:
                by_station.setdefault(row["substation"], {}).setdefault(table, []).append(row)
        found += [station(code, **tables) for code, tables in by_station.items()]
    return found
