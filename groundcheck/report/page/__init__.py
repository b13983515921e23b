"""report.html: the audit as one page for a browser, that needs no network; imports report, audit and store."""

from groundcheck.report.page.make import write_page

__all__ = ["write_page"]
