"""The delimiter of a text, whatever stands above, below and in its table."""

import pytest

from groundcheck.ingest.readers.delimiter import find_delimiter

TABLE = [
    ["Station", "Bus", "Nominal kV", "Remark"],
    ["ELM", "B1", "33", ""],
    ["ELM", "B2", "11", "outdoor"],
    ["ASH", "B1", "132", "indoor"],
]
DECIMALS = [["Station", "R0", "X0", "R1"], *([f"S{n}", "0,12", "1,5", "13,8"] for n in range(6))]
SENTENCES = [["Station", "Remark"], *([f"S{n}", "oil leak, seen in May, not mended, ask again"] for n in range(6))]
LISTS = [["Station", "Neutrals", "kV"], *([f"S{n}", "T1; T2; T3", "33"] for n in range(6))]
TIGHT_LISTS = [["Station", "Neutrals", "kV", "A"], *([f"S{n}", "T1,T2,T3", "33", "5"] for n in range(6))]
ONE_ROW = [["Station", "Bus"], ["ELM", "B1"]]
SIZES = [["Station", "Size"], *([f"S{n}", "2x95 mm2"] for n in range(3))]
TITLE = ["Register of neutral devices, northern district, as of May; issue 3"]
NOTES = ["Notes: R0, X0 on own rating; see sheet 2, line 7", "Issued by A. Smith, B. Jones, C. Brown"]


def lines(table, delimiter):
    def quoted(cell):
        return f'"{cell}"' if delimiter in cell else cell

    return "\n".join(delimiter.join(map(quoted, row)) for row in table)


@pytest.mark.parametrize("around", ["bare", "titled", "titled and noted"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("table", [TABLE, DECIMALS, SENTENCES, LISTS, TIGHT_LISTS, ONE_ROW, SIZES])
def test_the_delimiter_is_the_one_that_the_table_is_written_with(table, delimiter, around):
    above = [] if around == "bare" else [*TITLE, ""]
    below = ["", *NOTES] if around == "titled and noted" else []
    assert find_delimiter("\n".join([*above, lines(table, delimiter), *below])) == delimiter


def test_a_line_for_a_spreadsheet_program_that_names_the_delimiter_is_believed():
    assert find_delimiter("sep=;\nA,B;C,D\nE,F;G,H\n") == ";"


@pytest.mark.parametrize("text", ["Station\nELM\nASH\n", "", "\n\n", "one line of text"])
def test_a_text_of_one_column_has_no_delimiter(text):
    assert find_delimiter(text) is None


def test_rows_with_line_breaks_in_quotation_marks_do_not_hide_the_delimiter():
    rows = "".join(f'ELM{n};"two\nlines, and commas, in one cell";33\n' for n in range(5))
    assert find_delimiter("Station;Remark;kV\n" + rows) == ";"
