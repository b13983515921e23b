"""What the store knows of findings and stations, in the order and form in which all reports take it."""

from groundcheck.report.facts.findings import EvidenceFacts, FindingFacts, finding_facts, with_unit
from groundcheck.report.facts.stations import StationFacts, station_facts

__all__ = ["EvidenceFacts", "FindingFacts", "StationFacts", "finding_facts", "station_facts", "with_unit"]
