"""Quillmoor board mill: 33 kV intake, 6.6 kV ungrounded, 3.3 kV and 400 V high-resistance. Volts, mill words."""

from register import Register, Seed, Sheet, Table, Waiting

STATIONS = Table(
    "Sub | Description | Division | Operator | Hz | Manned | Survey date",
    """
    QM1 | Mill intake | Quillmoor Works | Quillmoor Board Mill | 50 | yes | 2025-03-12
    QM2 | Pulp hall | Quillmoor Works | Quillmoor Board Mill | 50 | yes | 2025-03-12
    QM3 | Machine hall | Quillmoor Works | Quillmoor Board Mill | 50 | yes | 2025-03-12
    QM4 | Boiler house | Quillmoor Works | Quillmoor Board Mill | 50 | yes | 2025-03-12
    QM5 | Effluent plant | Quillmoor Works | Quillmoor Board Mill | 50 | yes | 2025-03-12
    """,
)

BOARDS = Table(
    "Sub | Board | Volts (V) | Max voltage (V) | System earthing | Keeps running on E/F | Trip time (s) | Remarks "
    "| Wires",
    """
    QM1 | B33 | 33000 | 36000 | resistance | no | 3 | | 3 wire
    QM1 | A66 | 6600 | 7200 | unearthed | yes | | | 3 wire
    QM1 | B66 | 6600 | 7200 | unearthed | yes | | | 3 wire
    QM2 | A66 | 6600 | 7200 | unearthed | yes | | | 3 wire
    QM2 | P04 | 400 | 440 | HRG | yes | | pulpers must not trip | 4 wire
    QM3 | A66 | 6600 | 7200 | unearthed | yes | | | 3 wire
    QM3 | M33 | 3300 | 3600 | HRG | yes | | machine drives | 3 wire
    QM3 | M04 | 400 | 440 | | no | 1 | fans | 3 wire
    QM3 | E04 | 400 | 440 | solid | no | 1 | standby supply, never in parallel | 4 wire
    QM4 | A66 | 6600 | 7200 | unearthed | yes | | | 3 wire
    QM4 | L04 | 400 | 440 | solid | no | 1 | | 4 wire
    QM5 | A66 | 6600 | 7200 | unearthed | yes | | | 3 wire
    QM5 | D69 | 690 | 760 | unearthed | yes | | aerators | 3 wire
    QM5 | L04 | 400 | 440 | solid | no | 1 | | 4 wire
    """,
)

TRANSFORMERS = Table(
    "Sub | Tx | HV bus | LV bus | Rating (kVA) | Primary voltage (V) | Secondary voltage (V) | Connection | Z% | X/R "
    "| NER tag | NER type | NER ohms | NER amps | NER time | NER voltage (V)",
    """
    QM1 | TX1 | B33 | A66 | 16000 | 33000 | 6600 | Dd0 | 10 | 22 | | | | | |
    QM1 | TX2 | B33 | B66 | 16000 | 33000 | 6600 | Dd0 | 10 | 22 | | | | | |
    QM2 | TX21 | A66 | P04 | 2500 | 6600 | 400 | Dyn11 | 6 | 9 | R21 | HRG resistor | 462 | 0.5 | continuous | 231
    QM3 | TX31 | A66 | M33 | 5000 | 6600 | 3300 | Dyn11 | 7 | 12 | R31 | HRG resistor | 127 | 15 | continuous | 1910
    QM3 | TX33 | A66 | M05 | see drawing | 6600 | 400 | Dyn11 | 5 | 7 | | | | | |
    QM3 | TX32 | A66 | M04 | 1000 | 6600 | 400 | Dd0 | 5 | 7 | | | | | |
    QM4 | TX41 | A66 | L04 | 1600 | 6600 | 400 | Dyn11 | 6 | 8 | L41 | link | | | |
    QM5 | TX51 | A66 | D69 | 1600 | 6600 | 690 | Dd0 | 6 | 8 | | | | | |
    QM5 | TX52 | A66 | L04 | 500 | 6600 | 400 | Dyn11 | 5 | 6 | L52 | link | | | |
    """,
    notes=("NER columns describe what stands in the LV star point.",),
)

GENERATORS = Table(
    "Sub | Alternator | Terminal bus | Capacity (MVA) | Voltage (V) | Subtransient reactance "
    "| Negative sequence reactance | Zero sequence reactance | Stator connection | Stator capacitance (uF)",
    """
    QM4 | TG1 | A66 | 12 | 6600 | 0.15 | 0.17 | 0.06 | star | 0.18
    QM3 | DG1 | E04 | 0.5 | 400 | 0.14 | 0.16 | 0.03 | star |
    """,
)

NEUTRALS = Table(
    "Sub | Device | On neutral of | Neutral device type | Remarks",
    """
    QM4 | NK1 | TG1 | open link | link removed 2008, 6.6 kV runs unearthed
    QM3 | NK2 | DG1 | link |
    """,
)

CABLES = Table(
    "Sub | Cable circuit | From bus | To bus | Km | Circuit type | R+ (ohm/km) | X+ (ohm/km) | C (nF/km)",
    """
    QM1 | K12 | A66 | QM2:A66 | 1.2 | cable | 0.12 | 0.09 | 340
    QM1 | K13 | A66 | QM3:A66 | 0.8 | cable | 0.12 | 0.09 | 340
    QM1 | K14 | B66 | QM4:A66 | 1.5 | cable | 0.12 | 0.09 | 340
    QM1 | K15 | B66 | QM5:A66 | 2.0 | cable | 0.12 | 0.09 | 340
    QM2 | K21 | P04 | | 3.4 | cable | 0.10 | 0.08 | 900
    QM5 | K51 | D69 | | 0.4 | cable | 0.10 | 0.08 | 900
    QM3 | K31 | M33 | | 0.6 | cable | 0.15 | 0.09 | 400
    QM3 | K32 | M04 | | 0.5 | cable | 0.10 | 0.08 | 900
    """,
)

COUPLERS = Table(
    "Sub | Section switch | Side A | Side B | Normal state",
    """
    QM1 | S66 | A66 | B66 | closed
    """,
)

ARRESTERS = Table(
    "Sub | SA | Busbar | MCOV (V) | Duty cycle voltage (V) | Position | TOV 1 s (pu) | TOV 10 s (pu)",
    """
    QM1 | SA1 | B33 | 29000 | 36000 | phase | 1.45 | 1.38
    QM1 | SA2 | A66 | 5100 | 6000 | phase | 1.45 | 1.38
    QM4 | SA1 | A66 | 7650 | 9000 | phase | 1.45 | 1.38
    """,
)

INSULATION = Table(
    "Sub | Equipment tag | Busbar | Equipment type | Voltage class (V) | Voltage to earth (V) | BIL (kV) | Level %",
    """
    QM1 | SWB66 | A66 | switchboard | 7200 | 7200 | 60 |
    QM1 | K12C | A66 | XLPE cable | 6600 | 3800 | 60 | 100
    QM1 | SWB33 | B33 | switchboard | 36000 | 20800 | 170 |
    QM2 | SWB66 | A66 | switchboard | 7200 | 4160 | 60 |
    QM2 | MCC04 | P04 | switchboard | 1000 | 580 | 8 |
    QM3 | SWB66 | A66 | switchboard | 7200 | 7200 | 60 |
    QM3 | MW33 | M33 | motor winding | 3300 | 1905 | 20 |
    QM3 | SWB33 | M33 | switchboard | 7200 | 4160 | 60 |
    QM4 | SWB66 | A66 | switchboard | 7200 | 7200 | 60 |
    QM4 | TGW | A66 | machine winding | 7200 | 7200 | 60 |
    QM5 | SWB66 | A66 | switchboard | 7200 | 7200 | 60 |
    QM5 | MCC69 | D69 | switchboard | 1200 | 1000 | 8 |
    """,
)

VTS = Table(
    "Sub | VT | CT or VT | At bus | VT connection | Rated primary (V) | Rated secondary (V) | VF | VF time "
    "| Damping ohms",
    """
    QM1 | VTA | VT | A66 | star / broken delta | 6600 | 110 | 1.9 | 8 h | 40
    QM1 | VTB | VT | B66 | star / broken delta | 6600 | 110 | 1.9 | 8 h | 40
    QM4 | VTG | VT | A66 | star / star | 6600 | 110 | 1.9 | 8 h |
    QM5 | VTE | VT | A66 | star / star | 6600 | 110 | 1.9 | 8 h |
    QM5 | VTD | VT | D69 | star / broken delta | 690 | 110 | 1.9 | 8 h |
    """,
)

RELAYS = Table(
    "Sub | Relay name | Function no | Applied to | VT pri | VT sec | Plug setting | Delay (s) | Output "
    "| CT pri | CT sec",
    """
    QM1 | N1 | 59N | A66 | 6600 | 110 | 1200 | 5 | alarm | |
    QM1 | N2 | 59N | B66 | 6600 | 110 | 7000 | 5 | alarm | |
    QM1 | N3 | 67N | K12 | | | 4.5 | 1 | alarm | 50 | 1
    QM1 | N4 | 67N | K13 | | | 2 | 1 | alarm | 50 | 1
    QM2 | N1 | 59N | R21 | | | 60 | 5 | alarm | |
    QM3 | N1 | 59N | R31 | | | 400 | 5 | alarm | |
    QM3 | N2 | 51N | DG1 | | | 120 | 0.5 | trip | 800 | 5
    QM4 | N1 | 51N | TX41 | | | 400 | 0.5 | trip | 2000 | 5
    QM5 | N1 | 51N | TX52 | | | 150 | 0.5 | trip | 600 | 5
    """,
)

DETECTORS = Table(
    "Sub | Earth fault indicator | Busbar | Principle | Fed from | Drives",
    """
    QM1 | EFI-A | A66 | open delta | VTA | N1
    QM1 | EFI-B | B66 | open delta | VTB | N2
    QM2 | EFI-P | P04 | IMD | |
    QM3 | EFI-M | M33 | insulation monitor | |
    QM3 | EFI-F | M04 | earth lamps | |
    """,
)

MATS = Table(
    "Sub | Mat | Mat area (m2) | Rho (ohm m) | Electrodes | Conductor | Measured ohms | Test date "
    "| Mat material | Long side (m) | Short side (m) | Mesh (m) | Mat depth (m) | Buried conductor (m) "
    "| Rod length (m) | Chippings resistivity (ohm m) | Chippings depth (m) | Split factor | Clearance time (s)",
    """
    QM1 | MAT | 1500 | 70 | 16 | 70 mm2 | 0.8 | 18/04/2024 | copper | 50 | 30 | 5 | 0.6 | 680 | 3 | 3000 | 0.1 | 0.8 | 1
    QM2 | MAT | 900 | 70 | 8 | 70 mm2 | 1.0 | 18/04/2024 | copper | | | | | | | | | |
    QM3 | MAT | 1300 | 70 | 12 | 70 mm2 | 0.9 | 19/04/2024 | copper | | | | | | | | | |
    QM4 | MAT | 800 | 70 | 8 | 120 mm2 | 1.1 | 19/04/2024 | copper | | | | | | | | | |
    QM5 | MAT | 600 | 65 | 8 | 70 mm2 | 1.2 | 19/04/2024 | copper | | | | | | | | | |
    """,
)

BONDS = Table(
    "Sub | Bond tag | Apparatus | Type | Size | Number | Connection type | Connected to earth | Material",
    """
    QM1 | E1 | TX1 | transformer | 70 mm2 | 2 | lug | yes | copper
    QM1 | E2 | TX2 | transformer | 70 mm2 | 2 | lug | yes | copper
    QM2 | E1 | TX21 | transformer | 70 mm2 | 2 | lug | yes | copper
    QM3 | E1 | TX31 | transformer | 70 mm2 | 2 | lug | yes | copper
    QM3 | E2 | DG1 | alternator | 70 mm2 | 2 | lug | yes | copper
    QM4 | E1 | TG1 | alternator | 70 mm2 | 2 | lug | yes | copper
    QM4 | E2 | TX41 | transformer | 150 mm2 | 2 | lug | yes | copper
    QM5 | E1 | TX51 | transformer | 70 mm2 | 2 | lug | yes | copper
    QM5 | E2 | TX52 | transformer | 70 mm2 | 2 | lug | yes | copper
    QM5 | E2 | TX52 | transformer | 70 mm2 | 1 | lug | yes | copper
    QM5 | E3 | TX52 | transformer | 70 mm2 | 2 | lug | yes | copper
    """,
)

TESTS = Table(
    "Sub | Job no | Item | Done on | Done by | Kind of test | Pass/fail | Remarks",
    """
    QM1 | J-2511 | N1 | 2025-03-12 | M. Oake | relay test | pass |
    QM1 | J-2512 | N2 | 2025-03-12 | M. Oake | relay test | pass |
    QM1 | J-2513 | N3 | 2025-03-12 | M. Oake | relay test | pass |
    QM1 | J-2514 | N4 | 2025-03-12 | M. Oake | relay test | pass |
    QM3 | J-2515 | N1 | 2025-03-13 | M. Oake | relay test | pass |
    QM3 | J-2516 | N2 | 2025-03-13 | M. Oake | relay test | pass |
    QM4 | J-2517 | N1 | 2025-03-13 | M. Oake | relay test | pass |
    QM5 | J-1604 | N1 | 2016-08-22 | T. Garrow | relay test | pass | battery renewed
    """,
)

SEEDS = (
    Seed("arresters/continuous-voltage", "QM1", "arrester", "SA2", "MCOV 5.1 kV in a 6.6 kV zone that runs on"),
    Seed("insulation/healthy-phase-voltage", "QM2", "insulation", "SWB66", "4.16 kV to earth in a zone that runs on"),
    Seed("neutral-devices/charging-current", "QM2", "neutral_device", "R21", "passes 0.50 A; the zone charges 0.67 A"),
    Seed("insulation/healthy-phase-voltage", "QM3", "insulation", "MW33", "1.9 kV to earth in a zone that runs on"),
    Seed(
        "return-path/ground-source", "QM3", "bus", "M04", "fed by a delta, nothing grounds it, not declared unearthed"
    ),
    Seed("detection/ungrounded-zone", "QM5", "bus", "D69", "unearthed and runs on, with nothing to tell of a fault"),
    Seed("bonding/frame-bond", "QM3", "transformer", "TX32", "no bond on record"),
    Seed("bonding/strap-area", "QM2", "bond", "E1", "2 x 70 mm² where a ground fault draws 38 kA"),
    Seed("mat/conductor-area", "QM2", "ground_grid", "MAT", "70 mm² for the same 38 kA"),
    Seed(
        "detection/broken-delta-loading",
        "QM5",
        "instrument_transformer",
        "VTD",
        "no damping resistor in a zone that charges 0.14 A",
    ),
    Seed("detection/detector-pickup", "QM1", "ground_detector", "EFI-B", "its relay picks up at 7 kV of 11.4 kV"),
    Seed("detection/feeder-reach", "QM1", "ground_relay", "N3", "pickup 4.5 A; a fault on K12 draws 5.9 A through it"),
    Seed("insulation/cable-level", "QM1", "insulation", "K12C", "100 % cable in a zone that runs on"),
    Seed("detection/run-on-time", "QM1", "bus", "A66", "the same cable bears a standing fault for 1 min of the 8 h"),
    Seed("inspection/overdue", "QM5", "ground_relay", "N1", "last tested in 2016"),
    Seed("inspection/never-done", "QM2", "ground_relay", "N1", "never tested, unlike all others of the mill"),
    Seed("neutral-devices/high-resistance-limits", "QM3", "zone", "QM3:M33", "127 Ω pass 15 A, and the zone runs on"),
    Seed(
        "return-path/four-wire-neutral",
        "QM2",
        "bus",
        "P04",
        "lighting between line and neutral of a high-resistance zone",
    ),
    Seed("return-path/generator-fault-current", "QM3", "generator", "DG1", "star point on a link, X0 far below X1"),
)

REGISTER = Register(
    file="quillmoor_electrical_register.xlsx",
    story=(
        "**Quillmoor Works** is the board mill, a customer at 33 kV with its own 6.6 kV system. Its electrical foreman "
        "keeps volts, boards and plugs; the transformer sheet also describes what stands in the star point, and the "
        "earth mats have a column each."
    ),
    sheets=(
        Sheet("Subs", (STATIONS,), title=("QUILLMOOR BOARD MILL",)),
        Sheet("Boards", (BOARDS,), title=("Switchboards",), merged_station=True),
        Sheet("Transformers", (TRANSFORMERS,), title=("Transformers incl. neutral resistors",), merged_station=True),
        Sheet("Alternators", (GENERATORS,)),
        Sheet("Star points", (NEUTRALS,)),
        Sheet("HV and LV cables", (CABLES,), merged_station=True),
        Sheet("Section switches", (COUPLERS,)),
        Sheet("Arresters", (ARRESTERS,)),
        Sheet("Insulation", (INSULATION,), merged_station=True),
        Sheet("VTs", (VTS,)),
        Sheet("Relays", (RELAYS,)),
        Sheet("Earth fault indicators", (DETECTORS,)),
        Sheet("Mats", (MATS,), title=("Earth mats, a column each",), turned=True),
        Sheet("Bonds", (BONDS,)),
        Sheet("Relay tests", (TESTS,)),
    ),
    seeds=SEEDS,
    waiting=(
        Waiting("QM3", "transformer", "TX33", "unreadable", "kVA 'see drawing'"),
        Waiting("QM5", "bond", "E2", "conflicting", "two straps in this row, one in the next"),
        Waiting("QM5", "bond", "E2", "conflicting", "one strap in this row, two in the row above"),
    ),
)
