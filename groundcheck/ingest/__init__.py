"""Reads workbooks and csv files into raw and inventory; imports schema, policy and store."""

from groundcheck.ingest.load import ingest
from groundcheck.ingest.proposals.propose import propose_columns

__all__ = ["ingest", "propose_columns"]
