"""ingest_log.txt, what was read and what was made of it, for people; imports what the rest of the package does."""

from groundcheck.report.ingest_log.make import write_ingest_log

__all__ = ["write_ingest_log"]
