"""Sheets that hold no inventory are listed with the reason, and disturb nothing."""

import openpyxl
import pytest

BUS = [["Station", "Bus", "Nominal kV"], ["ELM", "B1", 33]]


@pytest.mark.parametrize(
    ("rows", "counts"),
    [
        ([["Row Labels", "Sum of Load"], ["ELM", 45], ["OAK", 12], ["Grand Total", 57]], (0, 0, 0, 4, 0)),
        ([["North district"], [], ["Prepared by", "M. Reed"], ["Date", "May"]], (0, 0, 0, 3, 1)),
        ([["Legend"], ["B", "busbar"], ["T", "transformer"]], (0, 0, 0, 3, 0)),
        ([["All values are nominal. The transformer at Elm Street is to be replaced."]], (0, 0, 0, 1, 0)),
    ],
)
def test_a_pivot_a_cover_a_legend_and_notes_say_why_they_gave_nothing(read, book, account, remark, rows, counts):
    store = read(book({"Buses": BUS, "Other": rows}))
    assert account(store, "Other") == counts
    assert remark(store, "Other") == "no row holds headings of any canonical table, so its rows are kept as notes"
    assert account(store, "Buses") == (1, 0, 1, 0, 0)


def test_a_chart_sheet_is_listed(read, book, account, remark):
    path = book({"Buses": BUS})
    workbook = openpyxl.load_workbook(path)
    chart = openpyxl.chart.BarChart()
    chart.add_data(openpyxl.chart.Reference(workbook["Buses"], min_col=3, min_row=1, max_row=2))
    workbook.create_chartsheet("Loads").add_chart(chart)
    workbook.save(path)
    store = read(path)
    assert account(store, "Loads") == (0, 0, 0, 0, 0)
    assert "chart" in remark(store, "Loads")
    assert account(store, "Buses") == (1, 0, 1, 0, 0)
