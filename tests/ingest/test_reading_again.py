"""The same sources give the same store; frames in memory go the same way as sheets."""

import tempfile
from pathlib import Path

import openpyxl
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from groundcheck.ingest import ingest
from groundcheck.ingest.sheets import column_letter
from groundcheck.schema import INVENTORY_TABLES, STAGES
from groundcheck.store import Store

BUS = ["Station", "Bus", "Nominal kV"]


def everything(store):
    return {
        (stage, name): store.sql(f'SELECT * FROM {stage}."{name}" ORDER BY ALL').fetchall()
        for stage in ("raw", "inventory")
        for name in STAGES[stage]
    }


def test_reading_unchanged_files_again_changes_nothing(read, book):
    path = book({"Buses": [BUS, ["ELM", "B1", 33], ["ELM", "B2", "x"]]})
    store = read(path)
    before = everything(store)
    ingest(store, path)
    assert everything(store) == before


def test_a_changed_file_is_read_again(read, book):
    store = read(book({"Buses": [BUS, ["ELM", "B1", 33]]}))
    ingest(store, book({"Buses": [BUS, ["ELM", "B1", 11]]}))
    assert store.sql("SELECT nominal_voltage FROM inventory.bus").fetchall() == [(11.0,)]
    assert store.sql("SELECT count(*) FROM raw.file").fetchall()[0] == (1,)


def test_every_cell_is_kept_as_it_was_read(read, book):
    store = read(book({"Buses": [[*BUS, "Remarks"], ["ELM", "B1", 33, None], ["ELM", "B2", 6.6, "=1+1 <b>"]]}))
    assert store.sql("SELECT cells FROM raw.row ORDER BY row").fetchall()[1] == (["ELM", "B1", "33"],)


def test_frames_keep_their_typed_values_and_row_numbers(read):
    device = {
        "substation": ["ELM", "ELM"],
        "neutral_device": ["R1", "R2"],
        "connected_to": [["T1", "T2"], ["T3"]],
        "kind": ["resistor", "resistor"],
        "rated_time": [float("inf"), 10.0],
        "resistance": [6.35, -1.0],
    }
    store = read({"neutral_device": pd.DataFrame(device)})
    found = store.sql(
        "SELECT neutral_device, connected_to, rated_time, resistance FROM inventory.neutral_device ORDER BY 1"
    )
    assert found.fetchall() == [("R1", ["T1", "T2"], float("inf"), 6.35), ("R2", ["T3"], 10.0, None)]
    assert store.sql("SELECT file, sheet, cell, found FROM raw.unread_cell").fetchall() == [
        ("DataFrame", "neutral_device", "F3", "-1")
    ]


def test_a_frame_under_any_other_name_is_matched_by_its_headings(read):
    frame = pd.DataFrame({"Station": ["ELM"], "Bus": ["B1"], "Nominal kV": [33.0]})
    store = read({"North busbars": frame})
    assert store.sql("SELECT substation, bus, nominal_voltage FROM inventory.bus").fetchall() == [("ELM", "B1", 33.0)]


def test_the_unit_in_a_heading_of_a_frame_counts_for_its_numbers(read):
    frame = pd.DataFrame(
        {"Site": ["ELM"], "Generator": ["G1"], "bus": ["B1"], "Rating (kVA)": [30_000.0], "kV": [11.0]}
    )
    store = read({"generator": frame})
    assert store.sql("SELECT rated_power, rated_voltage FROM inventory.generator").fetchall() == [(30.0, 11.0)]


TAGS = st.text("ABCDEFGH123456789", min_size=1, max_size=4).map(lambda text: "Q" + text)
FIELDS = {
    "highest_voltage": (("Um", "kV"), st.integers(34, 1000)),
    "ground_fault_clearing_time": (("Clearing time", "s"), st.integers(1, 40)),
    "declared_grounding": (("Earthing", None), st.sampled_from(["solid", "resonant", "ungrounded"])),
}
UNITS = {"kV": (("kV", 1), ("V", 1000)), "s": (("s", 1), ("ms", 1000))}


@settings(max_examples=30, deadline=None)
@given(st.data())
def test_a_table_reads_back_whatever_the_order_and_units_of_its_columns(data):
    tags = data.draw(st.lists(TAGS, min_size=1, max_size=6, unique=True))
    voltages = [data.draw(st.integers(1, 33)) for _ in tags]
    columns = {"Station": ["ELM"] * len(tags), "Busbar": tags}
    units = {"nominal_voltage": data.draw(st.sampled_from(UNITS["kV"]))}
    name, scale = units["nominal_voltage"]
    in_cell = data.draw(st.booleans())
    columns["Nominal" if in_cell else f"Nominal ({name})"] = [
        f"{value * scale} {name}" if in_cell else value * scale for value in voltages
    ]
    wanted = {"bus": tags, "nominal_voltage": [float(value) for value in voltages]}
    for field, ((heading, unit), values) in FIELDS.items():
        drawn = [data.draw(st.none() | values) for _ in tags]
        wanted[field] = drawn
        name, scale = data.draw(st.sampled_from(UNITS[unit])) if unit else (None, None)
        title = f"{heading}, {name}" if unit else heading
        columns[title] = [value * scale if unit and value is not None else value for value in drawn]
    order = data.draw(st.permutations(list(columns)))
    titles = data.draw(st.integers(0, 3))
    with Store() as store:
        with tempfile.TemporaryDirectory() as folder:
            workbook = openpyxl.Workbook()
            for _ in range(titles):
                workbook.active.append(["A title over the table"])
            workbook.active.append(order)
            for row in range(len(tags)):
                workbook.active.append([columns[heading][row] for heading in order])
            path = Path(folder) / "buses.xlsx"
            workbook.save(path)
            ingest(store, path)
        read_back = store.frame(f"SELECT {', '.join(wanted)} FROM inventory.bus ORDER BY raw_row")
        assert store.sql("SELECT count(*) FROM raw.quarantine").fetchall()[0] == (0,)
    for field, values in wanted.items():
        found = [None if pd.isna(value) else value for value in read_back[field]]
        assert found == pytest.approx(values) if field.endswith(("voltage", "time")) else found == values


@pytest.mark.parametrize(
    ("column", "letter"), [(0, "A"), (25, "Z"), (26, "AA"), (701, "ZZ"), (702, "AAA"), (16383, "XFD")]
)
def test_columns_are_lettered_as_in_a_spreadsheet(column, letter):
    # XFD is the last of the 16,384 columns of an .xlsx sheet (ECMA-376).
    assert column_letter(column) == letter


@pytest.mark.parametrize("table", list(INVENTORY_TABLES))
def test_a_sheet_headed_by_a_tables_own_names_is_recognized_as_that_table(read, csv_file, table):
    columns = INVENTORY_TABLES[table].columns()
    samples = {
        "quantity": "1",
        "count": "1",
        "size": "95 mm2",
        "yes_no": "yes",
        "date": "2021-04-03",
        "vector_group": "Dyn11",
    }
    row = [
        next(iter(column.accepted)) if column.accepted else samples.get(column.kind, f"{name}1")
        for name, column in columns.items()
    ]
    row = ["120" if name == "cable_insulation_level" else cell for name, cell in zip(columns, row, strict=True)]
    store = read(csv_file([[name.replace("_", " ").capitalize() for name in columns], row], name="register.csv"))
    fed = store.sql("SELECT field FROM raw.column_map WHERE target_table = $t ORDER BY 1", {"t": table}).fetchall()
    assert [field for (field,) in fed] == sorted(columns)
    assert store.sql(f"SELECT count(*) FROM inventory.{table} WHERE inferred_from IS NULL").fetchall()[0] == (1,)
