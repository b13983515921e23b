"""Text of unknown origin is shown as written, is never live, and fits a cell."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.report.cell_text import CELL_LIMIT, CUT_MARK, clean_text, csv_text


@pytest.mark.parametrize("text", ["=1+1", "+T1", "-T1", "@SUM(A1)", "\t=1+1", "\x00=1+1", "-1-1", "+5"])
def test_live_text_is_disarmed_with_an_apostrophe(text: str) -> None:
    assert csv_text(text) == "'" + text.replace("\x00", "")


@pytest.mark.parametrize("text", ["T1", "-5", "-0.25", "-1e-3", "a=b", "11 kV", "'quoted'", "<script>", ""])
def test_other_text_is_left_alone(text: str) -> None:
    assert csv_text(text) == text


def test_control_characters_go_and_line_breaks_stay() -> None:
    assert clean_text("a\x00b\x07\x1b\x85c\r\nd\re\ud800") == "abc\nd\ne"


def test_right_to_left_marks_stay() -> None:
    assert clean_text("\u200fمحطة\u202e") == "\u200fمحطة\u202e"


# 32 767 characters a cell, counted in UTF-16 units: Microsoft, 'Excel specifications and limits' (recalled).
@pytest.mark.parametrize(("text", "kept"), [("x" * 32_767, 32_767), ("😀" * 16_383, 16_383)])
def test_text_that_fits_a_cell_is_whole(text: str, kept: int) -> None:
    assert clean_text(text) == text
    assert len(text) == kept


@pytest.mark.parametrize("text", ["x" * 32_768, "x" * 40_000, "😀" * 16_384, "a" + "😀" * 20_000])
def test_text_that_does_not_fit_is_cut_with_a_mark(text: str) -> None:
    cut = clean_text(text)
    assert cut.endswith(CUT_MARK)
    assert text.startswith(cut.removesuffix(CUT_MARK))
    assert CELL_LIMIT - 1 <= len(cut.encode("utf-16-le")) // 2 <= CELL_LIMIT


@given(st.text())
def test_no_text_is_live_once_it_is_written(text: str) -> None:
    written = csv_text(text)
    assert not written.startswith(("=", "+", "@", "\t"))
    assert not written.startswith("-") or float(written) <= 0
