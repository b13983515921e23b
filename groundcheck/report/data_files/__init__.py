"""The store's tables as files for other programs: Parquet, CSV and JSON Lines, with a JSON Schema for each."""

from groundcheck.report.data_files.tables import DATA_TABLES, FORMAT_VERSION, FORMATS
from groundcheck.report.data_files.write import write_data

__all__ = ["DATA_TABLES", "FORMATS", "FORMAT_VERSION", "write_data"]
