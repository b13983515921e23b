"""The whole rulebook as one page to read: what is asked, why, on whose authority, how it is worked out."""

from groundcheck.report.rulebook_page.make import write_rulebook_of_audit, write_rulebook_page

__all__ = ["write_rulebook_of_audit", "write_rulebook_page"]
