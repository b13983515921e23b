"""exceptions.xlsx, a file a sheet or a group of alike sheets; imports what the rest of the report package does."""

from groundcheck.report.workbook.make import write_workbook

__all__ = ["write_workbook"]
