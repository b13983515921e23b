"""Delimited text: how it is encoded, whether it writes decimal commas, and what its quotation marks mean."""

import csv
import re

import pytest

PLACES = {
    "cp1252": ["Älmhult", "Château", "São João", "Größe"],
    "cp1251": ["Северная", "Южная", "Восточная подстанция"],
    "cp1253": ["Αθήνα", "Πάτρα", "Θεσσαλονίκη"],
    "shift_jis": ["変電所", "名古屋中央変電所", "大阪北", "東京"],
    "gb18030": ["变电站", "中性点接地电阻", "上海南", "北京"],
}
HEADINGS = {"cp1251": "Подстанция", "cp1253": "Υποσταθμός", "shift_jis": "変電所名", "gb18030": "变电站名称"}


def table(places, heading="Station"):
    return f"{heading};kV\n" + "".join(f"{place};33\n" for place in places)


@pytest.mark.parametrize("encoding", PLACES)
def test_an_encoding_of_single_letters_is_found_by_its_letters(read_one, encoding):
    text = table(PLACES[encoding], HEADINGS.get(encoding, "Station"))
    source = read_one(text.encode(encoding), "a.csv")
    assert [row[0] for row in source.sheets[0].rows[1:]] == PLACES[encoding]
    assert source.reader == f"csv, {encoding}, delimiter ;"


@pytest.mark.parametrize("text", ["5 °C ± 3 %", "R = 10 Ohm · 50 µF", "é", "naïve – “quoted”"])
def test_an_english_text_with_a_few_signs_is_windows_1252(read_one, text):
    source = read_one(f"Station;Remark\nELM;{text}\n".encode("cp1252"), "a.csv")
    assert source.sheets[0].rows[1] == ["ELM", text]


@pytest.mark.parametrize(
    ("encoding", "said"),
    [
        ("utf-8", "utf-8"),
        ("utf-8-sig", "utf-8"),
        ("utf-16", "utf-16"),
        ("utf-32", "utf-32"),
        ("utf-16-le", "utf-16-le without mark"),
        ("utf-16-be", "utf-16-be without mark"),
        ("utf-32-le", "utf-32-le without mark"),
        ("utf-32-be", "utf-32-be without mark"),
    ],
)
def test_a_unicode_text_is_recognized_with_and_without_mark(read_one, encoding, said):
    source = read_one(table(["Älmhult", "Łódź"]).encode(encoding), "a.csv")
    assert source.sheets[0].rows == [["Station", "kV"], ["Älmhult", "33"], ["Łódź", "33"]]
    assert source.reader == f"csv, {said}, delimiter ;"


def test_one_line_of_another_origin_does_not_turn_a_utf_8_text(read_one):
    content = table(["Älmhult"] * 30).encode() + "Große;33\n".encode("cp1252")
    source = read_one(content, "a.csv")
    assert source.sheets[0].rows[1] == ["Älmhult", "33"]
    assert source.sheets[0].rows[-1][0] == "Gro\ufffde"
    assert source.reader == "csv, utf-8 but for 1 characters, delimiter ;"


@pytest.mark.parametrize(
    ("numbers", "comma"),
    [
        (["13,8", "6,6 kV", "0,125"], True),
        (["1.234,5", "12,5"], True),
        (["13.8", "6.6", "1,234.5"], False),
        (["12,470", "33,000", "110,000"], False),  # thousands, or decimals: not told by these
        (["12,470", "13,8"], True),
        (["13,8", "13.8"], False),
        ([*["13,8"] * 20, "2.1"], True),
        ([*["13.8"] * 20, "2,1"], False),
        (["03.04.2021", "13,8"], True),
        (["1234,567"], True),
        (["T1,T2", "5,5,5", "33"], False),
    ],
)
@pytest.mark.parametrize("delimiter", [";", "\t", ","])
def test_a_file_writes_decimal_commas_if_its_numbers_do(read_one, tmp_path, numbers, comma, delimiter):
    with (tmp_path / "w.csv").open("w", newline="") as stream:
        csv.writer(stream, delimiter=delimiter).writerows(
            [["Station", "kV"], *([f"S{i}", n] for i, n in enumerate(numbers))]
        )
    source = read_one((tmp_path / "w.csv").read_bytes(), "a.csv")
    assert [row[1] for row in source.sheets[0].rows[1:]] == numbers
    assert source.sheets[0].decimal_comma is comma
    assert ("decimal comma" in source.reader) is comma


def test_a_very_long_field_is_read_whole(read_one):
    [sheet] = read_one(f"Station,Remark\nELM,{'x' * 300_000}\n".encode(), "a.csv").sheets
    assert len(sheet.rows[1][1]) == 300_000
    assert csv.field_size_limit() == 131072


def test_a_quotation_mark_left_open_swallows_no_rows(read_one):
    source = read_one(b'Station,Rod\nELM,"3/8 inch\nASH,1/2 inch\nOAK,1 inch\n', "a.csv")
    assert source.sheets[0].rows == [["Station", "Rod"], ["ELM", '"3/8 inch'], ["ASH", "1/2 inch"], ["OAK", "1 inch"]]
    assert source.reader.endswith("quotation mark left open in row 2, all taken as text")


def test_quoted_cells_keep_delimiters_and_line_breaks(read_one):
    [sheet] = read_one(b'Station,Remark\r\nELM,"one, two\r\nthree ""four"""\r\n', "a.csv").sheets
    assert sheet.rows == [["Station", "Remark"], ["ELM", 'one, two\r\nthree "four"']]


def test_one_line_of_very_many_cells_does_not_fill_the_memory(read_one):
    lines = ["Station,kV", *["ELM,33"] * 2000, "," * 50_000 + "far"]
    [sheet] = read_one("\n".join(lines).encode(), "a.csv").sheets
    assert (len(sheet.rows), sheet.width) == (2001, 2)
    assert re.match(r"far off the other cells, and so not read with them: [A-Z]{4}2002 far;", sheet.remark)
