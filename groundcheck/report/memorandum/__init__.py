"""inspection_findings.pdf, a memorandum a district or station; imports what the rest of the package does."""

from groundcheck.report.memorandum.make import PAPERS, shipped_template, write_memoranda

__all__ = ["PAPERS", "shipped_template", "write_memoranda"]
