"""Hostile text ends as text in every report; a folder that can't be written stops early; silence says why."""

import csv
import unicodedata

import openpyxl
import pandas as pd
import pytest
from bad_inputs.cases import rows_of

from groundcheck import audit

CUT_MARK = "[cut here; whole in the store]"
WORKBOOK_CELL = 32_767  # characters; Microsoft, 'Excel specifications and limits'

# What a spreadsheet program, a terminal or a browser might take for more than text.
HOSTILE = {
    "a formula": "=1+1",
    "a call of a program": "=cmd|' /C calc'!A0",
    "an old formula": "@SUM(A1:A9)",
    "a plus": "+T1",
    "a minus": "-T1+T2",
    "a formula after a tab": "\t=1+1",
    "a formula after a line break": "\n=1+1",
    "a formula after a blank": " =1+1",
    "a link": '=HYPERLINK("https://example.org/","open")',
    "a script": "<script>alert('x')</script>",
    "an entity": "&lt;b&gt; &amp;",
    "quotes": 'T"1"\'',
    "delimiters": "T;1,2|3",
    "line breaks": "T1\r\nT2\rT3\nT4",
    "right to left": "\u200fمحطة\u202e1T",
    "beyond the first plane": "T1 \U0001f50c",
    "combining marks": "T\u0301\u0302\u0303",
    "an escape of a workbook": "_x0041_",
    "placeholders": "{asset} %s {0}",
    "SQL": "T1'; DROP TABLE inventory.bus; --",
    "markup of a terminal": "[bold]T1[/bold] [/]",
    "a path": "../../T1",
}
# Only frames and damaged files can hold these.
UNPRINTABLE = {
    "a null": "T\x001",
    "a bell": "T\x071",
    "an escape sequence": "\x1b[31mT1\x1b[0m",
    "a hidden formula": "\x01=1+1",
    "half a surrogate pair": "T\ud8001",
    "a noncharacter": "T\uffff1",
}


def texts(path):
    """Every text of a workbook; fails on a live formula."""
    found = []
    for sheet in openpyxl.load_workbook(path).worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                assert cell.data_type != "f", f"{path.name}, sheet {sheet.title}, cell {cell.coordinate}: {cell.value}"
                if isinstance(cell.value, str):
                    assert len(cell.value.encode("utf-16-le")) // 2 <= WORKBOOK_CELL
                    found.append(cell.value)
    return found


def assert_guarded(path):
    """No cell of a csv file begins as a formula does, and no other character is live."""
    with path.open(encoding="utf-8", newline="") as stream:
        for row in csv.reader(stream):
            for cell in row:
                if cell.startswith(("=", "+", "-", "@", "\t", "\r")):
                    float(cell)
                assert not {c for c in cell if unicodedata.category(c) in ("Cc", "Cs")} - set("\n\t")


def assert_reports_are_text(folder):
    """Prove it of every file in the folder; gives the texts of the exceptions workbook."""
    for path in folder.rglob("*"):
        if path.suffix == ".xlsx":
            texts(path)
        elif path.suffix == ".csv":
            assert_guarded(path)
        elif path.suffix == ".txt":
            log = path.read_text(encoding="utf-8")
            assert not {c for c in log if unicodedata.category(c) in ("Cc", "Cs")} - set("\n\t")
    return texts(folder / "exceptions.xlsx")


def shown(text):
    """A text as tags are kept: blanks around it gone, those inside it single."""
    return " ".join(text.split())


def write_hostile_workbook(folder, number, text):
    """Station, tag, bus, reading, remark, heading, sheet and file, all named by the text."""
    station = f"{text} {number}"
    bad = {"Station": station, "Transformer": text, "HV bus": text, "Z %": text}
    rows = [[*row, text] for row in rows_of("transformer", bad, {"Rating (MVA)": text}, {}, station=f"S{number}")]
    rows[0][-1] = f"Remark {text}"
    workbook = openpyxl.Workbook()
    sheet = workbook.active
    sheet.title = "".join(c for c in text if c not in "[]:*?/\\\r\n\t")[:31].strip("'")
    for row, values in enumerate(rows, 1):
        for column, value in enumerate(values, 1):
            cell = sheet.cell(row, column)
            # A workbook writes _x0041_ for A (ECMA-376-1, 22.9.2.19 ST_Xstring), and _x005F_x0041_ for itself.
            cell.value = value.replace("_x", "_x005F_x") if isinstance(value, str) else value
            if isinstance(value, str):
                cell.data_type = "s"
    workbook.save(folder / ("".join(c for c in text if c not in "/\x00\n\r\t").lstrip(".")[:40] + f"-{number}.xlsx"))


@pytest.fixture(scope="module")
def workbooks(tmp_path_factory):
    """All hostile texts, a workbook each, audited together."""
    folder = tmp_path_factory.mktemp("hostile")
    (folder / "in").mkdir()
    for number, text in enumerate(HOSTILE.values()):
        write_hostile_workbook(folder / "in", number, text)
    made = audit([folder / "in"])
    made.write(folder / "out", annotate=True)
    yield made.store, folder / "out"
    made.store.close()


def frame_of(rows):
    """A frame of objects: text of pandas' own kind can't hold half a surrogate pair."""
    return pd.DataFrame(rows[1:], columns=pd.Index(rows[0], dtype=object), dtype=object)


@pytest.fixture(scope="module")
def frames(tmp_path_factory):
    """All hostile texts in the cells and headings of two frames, audited together."""
    hostile = [*HOSTILE.values(), *UNPRINTABLE.values()]
    stations = [f"{text}{number}" for number, text in enumerate(hostile)]
    buses = [["substation", "bus", "nominal_voltage"], *([s, t, t] for s, t in zip(stations, hostile, strict=True))]
    arresters = [["substation", "arrester", "bus", "mcov", *hostile]]
    arresters += [[s, t, t, t, *hostile] for s, t in zip(stations, hostile, strict=True)]
    sound = {"bus": [*buses, ["ELM", "B1", "33"]], "arrester": [*arresters, ["ELM", "SA1", "B1", 28.0, *hostile]]}
    made = audit({name: frame_of(rows) for name, rows in sound.items()})
    folder = tmp_path_factory.mktemp("frames")
    made.write(folder)
    yield made.store, folder
    made.store.close()


def test_no_report_on_hostile_text_holds_anything_live(workbooks, frames):
    for _, folder in (workbooks, frames):
        assert_reports_are_text(folder)
    assert len(list((workbooks[1] / "annotated").glob("*.xlsx"))) == len(HOSTILE)


@pytest.mark.parametrize(("number", "text"), list(enumerate(HOSTILE.values())), ids=HOSTILE)
def test_hostile_text_in_a_workbook_is_shown_as_written(workbooks, number, text):
    store, folder = workbooks
    file = next(
        name for (name,) in store.sql("SELECT file FROM raw.file").fetchall() if name.endswith(f"-{number}.xlsx")
    )
    assert any(shown(text) in shown(cell) for cell in texts(folder / "exceptions.xlsx"))
    rows = store.sql("SELECT row, cells[-1] FROM raw.row WHERE file = $f ORDER BY row", {"f": file}).fetchall()
    assert [row for row, _ in rows] == [1, 2, 3, 4]
    assert rows[1][1].split() == text.split()
    listed = (
        "SELECT cell FROM raw.quarantine WHERE file = $f UNION ALL SELECT cell FROM raw.unread_cell WHERE file = $f"
    )
    assert store.sql(listed, {"f": file}).fetchall() == [("E3",), ("I2",)]
    tags = "SELECT transformer FROM inventory.transformer WHERE substation IN ($a, $b) ORDER BY raw_row"
    found = store.sql(tags, {"a": shown(f"{text} {number}"), "b": f"S{number}"}).fetchall()
    assert found == [(shown(text),), ("T1-3",)]


@pytest.mark.parametrize("number", range(len(HOSTILE) + len(UNPRINTABLE)), ids=[*HOSTILE, *UNPRINTABLE])
def test_hostile_text_in_a_frame_is_listed_with_its_cell(frames, number):
    store, _ = frames
    row = {"row": number + 2}
    assert store.sql("SELECT cell, reason FROM raw.quarantine WHERE row = $row", row).fetchall() == [
        (f"C{number + 2}", "unreadable")
    ]
    assert store.sql("SELECT cell, field FROM raw.unread_cell WHERE row = $row", row).fetchall() == [
        (f"D{number + 2}", "mcov")
    ]
    assert store.sql("SELECT nominal_voltage FROM inventory.bus WHERE substation = 'ELM'").fetchall() == [(33.0,)]
    assert store.sql("SELECT mcov FROM inventory.arrester WHERE substation = 'ELM'").fetchall() == [(28.0,)]


def test_forty_thousand_characters_are_cut_with_a_mark_and_whole_in_the_store(command, csv_file, tmp_path):
    remark = "long " * 8000
    rows = [[*row, ""] for row in rows_of("transformer", {}, {"Rating (MVA)": remark}, {})]
    rows[0][-1], rows[2][-1] = "Remarks", remark
    path = csv_file(rows)
    result = command("audit", path, "--store", "kept.duckdb", "--annotate")
    assert result.exit_code == 0, result.output
    assert any(text.endswith(CUT_MARK) for text in assert_reports_are_text(tmp_path / "audit_out"))
    from groundcheck.store import Store

    with Store(tmp_path / "kept.duckdb") as store:
        assert store.sql("SELECT cells[-1] FROM raw.row WHERE row = 3").fetchall() == [(remark,)]
        assert store.sql("SELECT cell FROM raw.quarantine").fetchall() == [("E3",)]
        assert len(store.sql("FROM inventory.transformer").fetchall()) == 2


@pytest.mark.parametrize("place", ["taken/out", "taken"])
def test_an_output_folder_that_cannot_be_made_stops_before_the_reading(command, stopped, tmp_path, place):
    (tmp_path / "taken").write_text("a file")
    # The source does not exist; that the folder is named first proves that it was looked at first.
    stopped(command("audit", "nowhere.xlsx", "--out", place), "output folder", "taken", "cannot be written")
    assert (tmp_path / "taken").read_text() == "a file"


@pytest.mark.parametrize("name", ["exceptions.xlsx", "findings.csv", "ingest_log.txt"])
def test_a_report_that_cannot_be_replaced_stops_and_leaves_the_others_whole(command, stopped, book, tmp_path, name):
    path = book({"Tx": rows_of("transformer", {})})
    assert command("audit", path).exit_code == 0
    out = tmp_path / "audit_out"
    (out / name).unlink()
    (out / name).mkdir()
    before = {file.name: file.read_bytes() for file in out.iterdir() if file.is_file()}
    stopped(command("audit", path), name, "cannot be written")
    assert {file.name: file.read_bytes() for file in out.iterdir() if file.is_file()} == before


def verdict(command, tmp_path, path):
    policy = tmp_path / "policy.toml"
    policy.write_text('[[rule]]\nname = "record/*"\nasked = false\nwhy = "they ask of any record, and are satisfied"\n')
    result = command("audit", path, "--policy", policy)
    assert result.exit_code == 0, result.output
    everywhere = " ".join(texts(tmp_path / "audit_out" / "exceptions.xlsx"))
    return " ".join(result.stdout.split()), everywhere


def test_nothing_found_is_not_nothing_assessable(command, book, tmp_path):
    bonds = [["Station", "Bond", "Equipment", "Connected to mat"], ["ELM", "E1", "T1", "yes"]]
    sound = verdict(command, tmp_path, book({"Bonds": bonds}))
    rows = [["Station", "Circuit", "Kind"], ["ELM", "C1", "ct"]]
    unknown = verdict(command, tmp_path, book({"CT circuits": rows}))
    nothing = verdict(command, tmp_path, book({"Stations": [["Station", "Name", "District"], ["ELM", "Elm", "North"]]}))
    for place in (0, 1):
        assert "every check that could be made is satisfied" in sound[place]
        assert "nothing could be assessed" in unknown[place]
        assert "no rule applies to anything on record" in nothing[place]


def test_findings_of_hostile_assets_are_whole_in_the_csv(csv_file, tmp_path):
    rows = rows_of("bus", {"Bus": "=B1", "Nominal kV": 132, "Highest kV": 13.2})
    made = audit([csv_file(rows)])
    made.write(tmp_path / "out")
    with (tmp_path / "out" / "findings.csv").open(encoding="utf-8", newline="") as stream:
        findings = list(csv.DictReader(stream))
    assert [finding["asset"] for finding in findings if finding["rule"] == "record/highest-below-nominal"] == ["'=B1"]
    made.store.close()
