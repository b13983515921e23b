"""A register of all kinds of equipment: each row goes to the table that its kind names."""

HEADINGS = ["Station", "Asset ID", "Asset type", "Bus", "Connected to", "Rating", "Voltage (kV)", "MCOV", "Element"]
ROWS = [
    ["ELM", "B11", "Busbar", None, None, None, 11, None, None],
    ["ELM", "R1", "NER", None, "ET1", "400 A", 6.35, None, None],
    ["ELM", "P1", "Petersen coil", None, "T1", "60 A", 6.35, None, None],
    ["ELM", "ET1", "NEX/zig-zag", "B11", None, "500 kVA", 11, None, None],
    ["ELM", "SA1", "Surge arresters", "B11", None, None, None, 9, None],
    ["ELM", "C1", "CT", "B11", None, None, None, None, None],
    ["ELM", "M1", "Earth grid", None, None, None, None, None, None],
    ["ELM", "F1", "Earth fault relay", None, "R1", None, None, None, "51G"],
    ["ELM", "G1", "Generator", "B11", None, "5 MVA", 11, None, None],
]


def tables(store):
    found = {}
    for table, tag in (
        ("bus", "bus"),
        ("neutral_device", "neutral_device || ' ' || kind"),
        ("grounding_transformer", "grounding_transformer || ' ' || connection"),
        ("arrester", "arrester"),
        ("instrument_transformer", "instrument_transformer || ' ' || kind"),
        ("ground_grid", "ground_grid"),
        ("ground_relay", "ground_relay || ' ' || function"),
        ("generator", "generator"),
    ):
        found[table] = [row[0] for row in store.sql(f"SELECT {tag} FROM inventory.{table} ORDER BY 1").fetchall()]
    return found


SOUND = {
    "bus": ["B11"],
    "neutral_device": ["P1 arc_suppression_coil", "R1 resistor"],
    "grounding_transformer": ["ET1 zigzag"],
    "arrester": ["SA1"],
    "instrument_transformer": ["C1 ct"],
    "ground_grid": ["M1"],
    "ground_relay": ["F1 51G"],
    "generator": ["G1"],
}


def test_rows_are_dealt_to_the_tables_that_their_kinds_name(read, book, account):
    store = read(book({"Assets": [HEADINGS, *ROWS]}))
    assert tables(store) == SOUND
    assert account(store, "Assets") == (9, 0, 1, 0, 0)
    assert store.sql("SELECT rated_current, rated_voltage, connected_to FROM inventory.neutral_device").fetchall() == [
        (400.0, 6.35, ["ET1"]),
        (60.0, 6.35, ["T1"]),
    ]
    assert store.sql(
        "SELECT target_table, field FROM raw.column_map WHERE heading = 'Asset type' ORDER BY 1"
    ).fetchall() == [
        ("grounding_transformer", "connection"),
        ("instrument_transformer", "kind"),
        ("neutral_device", "kind"),
    ]


def test_rows_of_an_unknown_kind_wait_and_each_word_is_asked_about_once(read, book, account, questions):
    more = [["ELM", "N1", "Fence"], ["ELM", "N2", "fence "], ["ELM", "N3", "Battery"], ["ELM", "N4", None]]
    store = read(book({"Assets": [HEADINGS, *ROWS, *more]}))
    assert tables(store) == SOUND
    assert account(store, "Assets") == (9, 4, 1, 0, 0)
    assert store.sql("SELECT cell, reason, found FROM raw.quarantine ORDER BY row").fetchall() == [
        ("C11", "unknown_word", "Fence"),
        ("C12", "unknown_word", "fence "),
        ("C13", "unknown_word", "Battery"),
        ("C14", "unknown_word", None),
    ]
    assert questions(store, "equipment_kind") == [("C11", "Fence", 2), ("C13", "Battery", 1), ("C14", "", 1)]
    assert store.sql("SELECT answer FROM raw.question WHERE found = 'Fence'").fetchall() == [
        ('kinds = { column = "Asset type", words = { "Fence" = "" } }',)
    ]


def test_the_column_map_says_what_a_word_means_and_which_are_no_concern(read, book, account, questions, tmp_path):
    path = tmp_path / "map.toml"
    words = '"Fence" = "", "Neutral box" = "neutral_device"'
    path.write_text(f'[[sheet]]\nmatch = "*::Assets"\nkinds = {{ column = "Asset type", words = {{ {words} }} }}\n')
    more = [["ELM", "N1", "Fence"], ["ELM", "X1", "Neutral box", None, "T1"]]
    store = read(book({"Assets": [HEADINGS, *ROWS, *more]}), columns=path)
    assert tables(store) == SOUND
    assert account(store, "Assets") == (9, 1, 1, 1, 0)
    assert questions(store, "equipment_kind") == []
    assert store.sql("SELECT cell, reason, target_table FROM raw.quarantine").fetchall() == [
        ("C12", "required_missing", "neutral_device")
    ]


def test_what_a_kind_requires_and_the_register_lacks_is_named(read, book):
    rows = [*ROWS, ["ELM", "T1", "Power Transformer", None, None, "12 MVA", 33, None, None]]
    store = read(book({"Assets": [HEADINGS, *rows]}))
    assert tables(store) == SOUND
    assert store.sql("SELECT row, reason, target_table FROM raw.quarantine").fetchall() == [
        (11, "required_missing", "transformer")
    ]


def test_a_list_of_bonds_to_all_kinds_of_equipment_is_no_register(read, book):
    rows = [
        ["Station", "Bond", "Equipment", "Plant type", "Material"],
        ["ELM", "K1", "T1", "Transformer", "copper"],
        ["ELM", "K2", "SA1", "Surge arrester", "copper"],
        ["ELM", "K3", "Gate", "Fence", "copper"],
    ]
    store = read(book({"Bonds": rows}))
    assert store.sql("SELECT bond, equipment_kind FROM inventory.bond ORDER BY 1").fetchall() == [
        ("K1", "transformer"),
        ("K2", "arrester"),
        ("K3", "fence"),
    ]


def test_a_list_of_neutral_devices_of_several_kinds_is_no_register(read, book):
    rows = [
        ["Station", "Device", "Neutral of", "Type"],
        ["ELM", "R1", "T1", "NER"],
        ["ELM", "P1", "T2", "Petersen coil"],
        ["ELM", "S1", "T3", "Surge arrester"],
    ]
    store = read(book({"Neutrals": rows}))
    assert store.sql("SELECT kind FROM inventory.neutral_device ORDER BY 1").fetchall() == [
        ("arc_suppression_coil",),
        ("resistor",),
        ("surge_arrester",),
    ]


def test_a_list_of_insulation_of_several_kinds_is_no_register(read, book):
    rows = [
        ["Station", "Equipment tag", "Bus", "Equipment type", "Rated kV"],
        ["ELM", "V1", "B11", "VT", 12],
        ["ELM", "C1", "B11", "Cable", 12],
        ["ELM", "W1", "B11", "Winding", 12],
    ]
    store = read(book({"Insulation": rows}))
    assert store.sql("SELECT count(*) FROM inventory.insulation").fetchall() == [(3,)]
