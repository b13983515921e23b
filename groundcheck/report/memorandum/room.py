"""How much one file holds: the only place for these numbers."""

from dataclasses import dataclass

FINDINGS_IN_FULL = 1000  # a file of the whole fleet shows all findings in full up to here,
HIGH_IN_FULL = 300  # and beyond it at most this many of severity high: some 500 pages, 14 MB, 5 s


@dataclass(frozen=True)
class Room:
    """Rows of each kind that a memorandum lists; the rest is counted, and said to be elsewhere."""

    stations: int
    rows: int  # of each of the other tables
    diagrams: bool  # whether the station of each chapter is drawn; 600 drawings take 10 s and 40 MB
    basis: int = 6  # cells that the computed inputs of one finding come from


WHOLE = Room(stations=10_000, rows=1_000, diagrams=True)
SHORTENED = Room(stations=25, rows=10, diagrams=False)
