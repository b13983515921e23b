"""What is wished of the reports beyond those that are always written."""

from dataclasses import dataclass
from pathlib import Path

from groundcheck.errors import OutputFolderError, TemplateError
from groundcheck.report.data_files import FORMATS


@dataclass(frozen=True)
class Wishes:
    """
    What is wished of the reports.

    Parameters
    ----------
    annotate
        Copies of the sources too, with the offending cells marked.
    sheet_by_district
        A sheet a district in the exception workbook.
    data
        Formats of the data files: parquet, csv, jsonl; none, none of them.
    memo_template
        An owner's template of the memoranda.
    junit
        File of the outcomes in the form that build servers read.

    Raises
    ------
    ValueError
        A format is unknown.
    TemplateError
        There is no such template.
    OutputFolderError
        A folder stands where the JUnit file is to go.
    """

    annotate: bool = False
    sheet_by_district: bool = False
    data: tuple[str, ...] = ()
    memo_template: Path | None = None
    junit: Path | None = None

    def __post_init__(self) -> None:
        unknown = sorted(set(self.data) - set(FORMATS))
        if unknown:
            raise ValueError(f"no format {unknown[0]}; known are {', '.join(FORMATS)}")
        if self.memo_template is not None and not self.memo_template.is_file():
            raise TemplateError(
                f"{self.memo_template}: no such file; groundcheck memorandum --print-template shows the shipped one"
            )
        if self.junit is not None and self.junit.is_dir():
            raise OutputFolderError(f"{self.junit}: is a folder; name a file, such as {self.junit / 'groundcheck.xml'}")
