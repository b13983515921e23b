"""A map is proposed that works as it is, says why, and leaves to a person what the sheets do not settle."""

from groundcheck.ingest import propose_columns

NETWORK = [
    [
        "Licence",
        "Node 1",
        "Operating Voltage 1",
        "Node 2",
        "Operating Voltage 2",
        "Status",
        "Vector Group",
        "R1",
        "X1",
        "X0",
        "Nominal Rating",
        "Method of Earthing",
    ],
    *(
        ["N", f"AL{i:02d}3_1H0", 33, f"AL{i:02d}5_1T0", 11, "Existing", "Dyn11", 8, 110, 99, 12, "Resistor"]
        for i in range(12)
    ),
    ["S", "AL003_1H0", 33, "AL005_1T0", 11, "Existing", "Dyn11", 3, 95, 90, 20, "Reactor"],
]


def test_a_map_is_proposed_that_works_without_a_persons_help(read, csv_file, tmp_path):
    path = tmp_path / "proposed.toml"
    source = csv_file(NETWORK)
    text = propose_columns(source)
    path.write_text(text)
    store = read(source, columns=path)
    assert store.sql("SELECT rows_used, rows_quarantined FROM raw.account").fetchall() == [(13, 0)]
    assert store.sql("SELECT DISTINCT round(impedance, 1) FROM inventory.transformer ORDER BY 1").fetchall() == [
        (13.2,),
        (19.0,),
    ]
    assert {"N AL00", "S AL00"} <= {s for (s,) in store.sql("SELECT substation FROM inventory.substation").fetchall()}
    settled = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    assert len(settled) == 9
    assert "first 4 letters of Node 1 and Node 2 agree in 13 of 13 rows" in text
    assert "X1 is above 60 % in 13 of 13 rows" in text


def test_what_a_heading_feeds_with_the_proposed_entry_is_not_said_to_feed_nothing(csv_file):
    text = propose_columns(csv_file(NETWORK))
    assert "Licence -> substation.owner" in text
    assert "feeds nothing" not in text


TRANSFORMERS = ["Station", "Transformer", "HV bus", "LV bus", "MVA", "HV", "LV", "Vector group"]
SOUND = ["ELM", "T1", "B33", "B11", 12, 33, 11, "Dyn11"]


def test_a_heading_that_fits_several_fields_is_left_to_a_person_with_its_candidates(book):
    text = propose_columns(book({"Tx": [[*TRANSFORMERS, "Voltage"], [*SOUND, 33]]}))
    (line,) = [line for line in text.splitlines() if '"Voltage"' in line]
    assert line.startswith('# fields.hv_voltage = "Voltage"  # ambiguous: hv_voltage or ')
    assert "lv_voltage" in line


def test_a_misspelled_heading_is_proposed_with_how_sure_it_is_and_what_it_is_like(book):
    text = propose_columns(book({"Tx": [[*TRANSFORMERS, "Impedence"], [*SOUND, 10]]}))
    assert 'fields.impedance = "Impedence"  # 0.89: spelled nearly like "impedance"' in text


def test_headings_that_need_no_help_take_one_line_a_sheet_and_so_do_those_that_feed_nothing(book):
    text = propose_columns(book({"Tx": [[*TRANSFORMERS, "Colour", "Paint"], [*SOUND, "grey", "old"]]}))
    assert text.splitlines()[3:] == [
        "# north.xlsx: transformer; its headings need no entry",
        "# by alias: Station -> substation, Transformer, HV bus, LV bus, MVA -> rated_power, HV -> hv_voltage, "
        "LV -> lv_voltage, Vector group",
        "# feeds nothing: Colour, Paint",
    ]


def test_a_word_that_no_vocabulary_has_is_a_line_to_complete(book):
    rows = [[*TRANSFORMERS, "LV earthing"], [*SOUND, "liquid pot"], ["ELM", "T2", *SOUND[2:], "resistor"]]
    text = propose_columns(book({"Tx": rows}))
    assert '# words.lv_neutral = { "liquid pot" = ... }  # in 1 rows; one of solid, resistor, ' in text


def test_one_of_two_tables_in_a_sheet_is_told_by_its_own_headings(read, book, tmp_path):
    arresters = [["Station", "Arrester", "Bus", "MCOV (kV)"], ["ELM", "SA1", "B33", 28]]
    rows = [[*TRANSFORMERS, "Impedence"], [*SOUND, 10], [], ["Surge arresters"], *arresters]
    source = book({"Plant": rows})
    path = tmp_path / "proposed.toml"
    path.write_text(propose_columns(source))
    store = read(source, columns=path)
    assert store.sql("SELECT how FROM raw.column_map WHERE field = 'impedance'").fetchall() == [("map",)]
    assert store.sql("SELECT arrester, mcov FROM inventory.arrester").fetchall() == [("SA1", 28.0)]
