"""What a person or another program reads of an audit; reads the store, may import policy and what lies below it."""

from groundcheck.report.folder import check_output_folder
from groundcheck.report.wishes import Wishes
from groundcheck.report.write import write_reports

__all__ = ["Wishes", "check_output_folder", "write_reports"]
