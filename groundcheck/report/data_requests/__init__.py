"""data_requests.xlsx, what each district is asked to fill in; imports what the rest of the report package does."""

from groundcheck.report.data_requests.make import write_data_requests

__all__ = ["write_data_requests"]
