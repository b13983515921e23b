"""annotated/, copies of the sources with every offending cell marked; imports what the rest of the package does."""

from groundcheck.report.annotated.make import LOST_ON_COPYING, write_annotated

__all__ = ["LOST_ON_COPYING", "write_annotated"]
