"""Coast: 110/20 kV and 20/0.4 kV. Units typed in the cells, two tables on one sheet, British words."""

from register import Asked, Question, Register, Seed, Sheet, Table, Unread, Waiting

STATIONS = Table(
    "Site | Full name | Area | Frequency | No of customers | Also known as | Manned | Record checked on",
    """
    LIN | Linnetsand Grid | Coast | 50 Hz | 14200 | Linnet Sands | no | 2025-03-10
    PEL | Pellharbour Grid | Coast | 50 Hz | 11800 | | no | 2025-03-10
    QUA | Quaywick | Coast | 50 Hz | 640 | | no | 2025-03-11
    RUS | Rushcombe | Coast | 50 Hz | 710 | | no | 2025-03-11
    SAN | Sandlow | Coast | 50 Hz | 455 | Sandlow Pumps | no | 2025-03-11
    TOL | Tollerness | Coast | 50 Hz | 390 | | no | 2025-03-11
    """,
)

BUSBARS = Table(
    "Site | Busbar | System voltage | Highest sytem voltage | Method of earthing | Run on earth fault "
    "| E/F clearing time | Remarks "
    "| No of wires",
    """
    LIN | M110 | 110 kV | 123 kV | effectively earthed | no | 0.5 s | | 3 wire
    LIN | B20 | 20 kV | 24 kV | Petersen coil | yes | | runs on up to 2 h, searched by switching | 3 wire
    PEL | M110 | 110 kV | 123 kV | effectively earthed | no | 0.5 s | | 3 wire
    PEL | B20 | 20 kV | 24 kV | NER | no | 2 s | | 3 wire
    QUA | B20 | 20 kV | 24 kV | Petersen coil | yes | | | 3 wire
    QUA | B04 | 400 V | 440 V | solidly earthed | no | 1 s | | 4 wire
    RUS | B20 | 20 kV | 24 kV | Petersen coil | yes | | | 3 wire
    RUS | B04 | 400 V | 440 V | solidly earthed | no | 1 s | | 4 wire
    SAN | B20 | 20 kV | 24 kV | Petersen coil | yes | | | 3 wire
    SAN | B04 | 400 V | 440 V | solidly earthed | no | 1 s | | 4 wire
    TOL | B20 | 20 kV | 24 kV | NER | no | 2 s | | 3 wire
    TOL | B04 | 400 V | 440 V | solidly earthed | no | 1 s | | 4 wire
    """,
)

TRANSFORMERS = Table(
    "Site | Transformer | HV busbar | LV busbar | Rating | Primary voltage | Secondary voltage | Vector group "
    "| Impedence % | X/R | Test report | Impedance HV-TV | Impedance LV-TV "
    "| TV MVA | Tertiary voltage | Core type | Condition status",
    """
    LIN | T1 | M110 | B20 | 31.5 MVA | 110 kV | 20 kV | YNyn0d5 | 12 | 22 | TR-8841 | 6.4 | 2.2 | 10.5 | 10 kV \
| three limb | in service
    LIN | T2 | M110 | B20 | 31.5 MVA | 110 kV | 20 kV | YNyn0d5 | 12 | 22 | TR-8842 | 6.4 | 2.2 | 10.5 | 10 kV \
| three limb | spare
    PEL | T1 | M110 | B20 | 31.5 MVA | 110 kV | 20 kV | YNyn0d5 | 12 | 22 | TR-9107 | 6.4 | 2.2 | 10.5 | 10 kV \
| three limb | in service
    QUA | T1 | B20 | B04 | 630 kVA | 20 kV | 400 V | Dyn5 | 6 | 7 | | | | | | three limb | in service
    RUS | T1 | B20 | B04 | 630 kVA | 20 kV | 400 V | Dyn5 | 6 | 7 | | | | | | three limb | in service
    SAN | T1 | B20 | B04 | 1000 kVA | 20 kV | 400 V | Dyn5 | 6 | 8 | | | | | | three limb | in service
    SAN | T2 | B20 | B04 | 1000 kVA | 20 kV | 400 V | Dny5 | 6 | 8 | | | | | | three limb | in service
    TOL | T1 | B20 | B04 | 400 kVA | 20 kV | 400 V | Dyn5 | 4 | 6 | | | | | | three limb | in service
    """,
)

NEUTRALS = Table(
    "Site | Earthing device | Serves | Side | Type | Resistance | Coil reactance | Rated current | Short time "
    "| Rated voltage | Continuous rating | Remarks "
    "| Supervised",
    """
    LIN | NL1 | T1 | HV | direct link | | | | | | | |
    LIN | ASC1 | T1 | LV | Petersen coil | | 78.0 Ω | 160 A | continuous | 12.7 kV | 120 A \
| set for 54 km of cable | yes
    PEL | NL1 | T1 | HV | direct link | | | | | | | |
    PEL | NER1 | T1 | LV | NER | 28.9 Ω | | 400 A | 10 s | 11.55 kV | | | yes
    QUA | NL1 | T1 | LV | direct link | | | | | | | |
    RUS | NL1 | T1 | LV | direct link | | | | | | | |
    SAN | NL1 | T1 | LV | direct link | | | | | | | |
    TOL | NL1 | T1 | LV | direct link | | | | | | | |
    """,
)

CIRCUITS = Table(
    "Site | Circuit name | From | To | Length | OH/UG | R | X | Zero sequence resistance | Zero sequence reactance "
    "| Capacitence to earth",
    """
    LIN | QUA cable | B20 | QUA:B20 | 14 km | UG | 0.125 Ω/km | 0.11 Ω/km | 0.45 | 0.20 | 250 nF/km
    LIN | SAN cable | B20 | SAN:B20 | 11 km | UG | 0.125 Ω/km | 0.11 Ω/km | 0.45 | 0.20 | 250 nF/km
    LIN | RUS cable | B20 | RUS:B20 | 9 km | UG | 0.125 Ω/km | 0.11 Ω/km | 0.45 | 0.20 | 250 nF/km
    LIN | Harbour | B20 | | 12 km | UG | 0.125 Ω/km | 0.11 Ω/km | 0.45 | 0.20 | 250 nF/km
    LIN | Airfield | B20 | | 8000 m | UG | 0.125 Ω/km | 0.11 Ω/km | 0.45 | 0.20 | 250 nF/km
    LIN | Marsh | B20 | | 16 km | UG | 0.125 Ω/km | 0.11 Ω/km | 0.45 | 0.20 | 250 nF/km
    PEL | TOL cable | B20 | TOL:B20 | 7 km | UG | 0.125 Ω/km | 0.11 Ω/km | 0.45 | 0.20 | 250 nF/km
    PEL | Moor line | B20 | | 16 km | OH | 0.30 Ω/km | 0.37 Ω/km | 0.45 | 1.30 | 5.5 nF/km
    """,
)

ARRESTERS = Table(
    "Site | Surge arrester | Busbar | Uc | Ur | Connected | TOV 1 sec | TOV 10 sec",
    """
    LIN | SA110 | M110 | 77 kV | 96 kV | phase to earth | 1.45 pu | 1.38 pu
    LIN | SA20 | B20 | 24.4 kV | 30 kV | phase to earth | 1.45 pu | 1.38 pu
    LIN | SA-N | B20 | 10 kV | 12.5 kV | star point | 1.45 pu | 1.38 pu
    PEL | SA110 | M110 | 77 kV | 96 kV | phase to earth | 1.45 pu | 1.38 pu
    PEL | SA20 | B20 | 18 kV | 22.5 kV | phase to earth | 1.45 pu | 1.38 pu
    QUA | SA20 | B20 | 24.4 kV | 30 kV | phase to earth | 1.45 pu | 1.38 pu
    RUS | SA20 | B20 | 17 kV | 21 kV | phase to earth | 1.45 pu | 1.38 pu
    SAN | SA20 | B20 | 24.4 kV | 30 kV | phase to earth | 1.45 pu | 1.38 pu
    TOL | SA20 | B20 | 17 kV | 21 kV | phase to earth | 1.45 pu | 1.38 pu
    """,
    notes=("Uc as stamped on the unit.",),
)

INSULATION = Table(
    "Site | Apparatus | Busbar | Class of equipment | Um | Ph-E rating | LIWL | Cable level",
    """
    LIN | GIS20 | B20 | GIS | 24 kV | 24 kV | 125 kV |
    LIN | CB110 | M110 | circuit breaker | 123 kV | 71 kV | 550 kV |
    LIN | C-QUA | B20 | XLPE cable | 20 kV | 20.5 kV | 125 kV | 173 %
    PEL | SWB20 | B20 | switchboard | 24 kV | 13.9 kV | 125 kV |
    PEL | C-TOL | B20 | XLPE cable | 20 kV | 12 kV | 125 kV | 100 %
    QUA | RMU | B20 | switchboard | 24 kV | 24 kV | 125 kV |
    RUS | RMU | B20 | switchboard | 24 kV | 13.9 kV | 125 kV |
    RUS | C-LIN | B20 | XLPE cable | 20 kV | 12 kV | 125 kV | 133 %
    SAN | RMU | B20 | switchboard | 24 kV | 24 kV | 125 kV |
    TOL | RMU | B20 | switchboard | 24 kV | 13.9 kV | 125 kV |
    """,
)

VTS = Table(
    "Site | VT tag | Type | Busbar | Connection | Rated primary | Rated secondary | Rated voltage factor | VF time",
    """
    LIN | VT20 | VT | B20 | star / open delta | 20000 V | 110 V | 1.9 | 8 h
    LIN | CT20 | CT | B20 | | 1000 A | 1 A | |
    PEL | VT20 | VT | B20 | YNyn | 20000 V | 110 V | 1.9 | 30 s
    PEL | CT20 | CT | B20 | | 1000 A | 1 A | |
    SAN | VT20 | VT | B20 | star / open delta | 20000 V | 110 V | 1.9 | 8 h
    """,
)

RELAYS = Table(
    "Site | Relay tag | Ansi | Protects | CT pri | CT sec | Current setting | Char | Delay | CB time | Trip/alarm "
    "| TMS",
    """
    LIN | EF1 | 67N | M110 | 400 A | 1 A | 120 A | DT | 0.4 s | 80 ms | trip |
    LIN | EF2 | 51N | ASC1 | 200 A | 1 A | 20 A | DT | 10 s | 80 ms | alarm |
    LIN | EF3 | 51N | Airfield | 200 A | 1 A | 15 A | DT | 5 s | | alarm |
    LIN | EF4 | 59N | B20 | | | 6 kV | DT | 5 s | | alarm |
    PEL | EF1 | 67N | M110 | 400 A | 1 A | 120 A | DT | 0.4 s | 80 ms | trip |
    PEL | EF2 | 51G | NER1 | 400 A | 1 A | 60 A | DT | 8 s | 80 ms | trip |
    QUA | EF1 | 51N | T1 | 1000 A | 5 A | 300 A | DT | 0.5 s | 60 ms | trip |
    RUS | EF1 | 51N | T1 | 400 A | 5 A | 300 A | SI | | 60 ms | trip | 0.1
    SAN | EF1 | 51N | T1 | 1500 A | 5 A | 450 A | DT | 0.5 s | 60 ms | trip |
    SAN | EF2 | 59N | B20 | | | 6 kV | DT | 5 s | | alarm |
    TOL | EF1 | 51N | T1 | 600 A | 5 A | 200 A | DT | 0.5 s | 60 ms | trip |
    """,
)

DETECTORS = Table(
    "Site | E/F detection | Monitored bus | Detecton method | VT | Remarks | Drives",
    """
    LIN | EFD1 | B20 | open delta | VT20 | alarm to control room | EF4
    SAN | EFD1 | B20 | open delta | VT20 | local lamp | EF2
    """,
)

MATS = Table(
    "Site | Earthing grid | Grid area | Resistivity | Number of rods | Grid conductor | Material | Grid resistance "
    "| Last test "
    "| Grid length | Grid width | Mesh size | Grid depth | Conductor total length | Rod length "
    "| Gravel resistivity | Gravel depth | Current split | Fault time",
    """
    LIN | EG1 | 5400 m² | 40 Ωm | 24 | 95 mm² | copper | 0.19 Ω | 2024-02-12 | 90 m | 60 m | 6 m | 0.6 m \
| 1950 m | 3 m | 3000 Ωm | 0.1 m | 0.6 | 0.5 s
    PEL | EG1 | 4900 m² | 35 Ωm | 24 | 95 mm² | copper | 0.17 Ω | 2024-02-13 | 70 m | 70 m | 6 m | 0.6 m \
| 1820 m | 3 m | 3000 Ωm | 0.1 m | 0.6 | 0.5 s
    QUA | EG1 | 120 m² | 30 Ωm | 4 | 50 mm² | copper | 1.2 Ω | 2023-10-03 | 12 m | 10 m | | 0.6 m | 66 m | 3 m \
| | | 0.6 |
    RUS | EG1 | 120 m² | 35 Ωm | 4 | 50 mm² | copper | 1.4 Ω | 03/10/2023 | 12 m | 10 m | | 0.6 m | 66 m | 3 m \
| | | 0.6 |
    SAN | EG1 | 140 m² | 25 Ωm | 4 | 95 mm² | copper | 0.9 Ω | 04/10/2023 | 14 m | 10 m | | 0.6 m | 72 m | 3 m \
| | | 0.6 |
    TOL | EG1 | 120 m² | 90 Ωm | 6 | 50 mm² | copper | -3.1 Ω | 2023-10-05 | 12 m | 10 m | | 0.6 m | 66 m \
| 3 m | | | 0.6 |
    """,
)

BONDS = Table(
    "Site | Strap | Equipment | Plant type | Strap size | Material | Qty | Termination | Bonded",
    """
    LIN | S1 | T1 | transformer | 2 x 95 mm² | copper | 1 | lug | yes
    LIN | S2 | ASC1 | coil | 95 mm² | copper | 1 | lug | yes
    LIN | S3 | GIS20 | switchgear | 2 x 95 mm² | copper | 1 | lug | yes
    PEL | S1 | T1 | transformer | 2 x 95 mm² | copper | 1 | lug | yes
    PEL | S2 | NER1 | resistor | 95 mm² | copper | 1 | lug | yes
    PEL | S3 | | fence | 50 mm² | copper | 1 | clamp | yes
    QUA | S1 | T1 | transformer | 95 mm² | copper | 2 | lug | yes
    RUS | S1 | T1 | transformer | 95 mm² | copper | 2 | lug | yes
    RUS | S2 | RMU | switchgear | 50 mm² | copper | 1 | lug | no
    SAN | S1 | T1 | transformer | 95 mm² | copper | 2 | lug | yes
    TOL | S1 | T1 | transformer | 95 mm² | copper | 2 | lug | yes
    """,
)

SEEDS = (
    Seed("insulation/healthy-phase-voltage", "RUS", "insulation", "RMU", "13.9 kV to earth in a zone that runs on"),
    Seed("arresters/continuous-voltage", "RUS", "arrester", "SA20", "Uc 17 kV in a 20 kV zone that runs on"),
    Seed("bonding/connected-to-mat", "RUS", "bond", "S2", "ring main unit not bonded to the mat"),
    Seed("arresters/neutral-voltage", "LIN", "arrester", "SA-N", "Uc 10 kV at a neutral that rises to 13.9 kV"),
    Seed("detection/charging-margin", "LIN", "ground_relay", "EF3", "pickup 15 A; its own cable charges 21.8 A"),
    Seed("detection/neutral-ct-ratio", "RUS", "ground_relay", "EF1", "400/5 A in a neutral that carries 15 kA"),
    Seed("insulation/cable-level", "RUS", "insulation", "C-LIN", "133 % cable in a zone that runs on"),
    Seed("detection/run-on-time", "LIN", "bus", "B20", "the same cable bears a standing fault for 1 h of the 8 h"),
    Seed(
        "neutral-devices/coil-tuning",
        "LIN",
        "neutral_device",
        "ASC1",
        "set for 54 km of cable; the Marsh cable made it 70 km",
    ),
    Seed(
        "neutral-devices/continuous-current",
        "LIN",
        "neutral_device",
        "ASC1",
        "120 A lastingly; a standing fault puts 149 A through it",
    ),
)

REGISTER = Register(
    file="Coast_110-20kV.xlsx",
    story=(
        "**Coast** holds two 110/20 kV grid stations and four 20/0.4 kV stations. Units are typed in the cells, a few "
        "headings are misspelled, arresters and insulation share a sheet."
    ),
    sheets=(
        Sheet("Sites", (STATIONS,), title=("Coast Area substations",)),
        Sheet("Busbars", (BUSBARS,), merged_station=True),
        Sheet("Transformers", (TRANSFORMERS,), title=("Transformers", "Coast Area"), merged_station=True),
        Sheet("Neutral earthing", (NEUTRALS,), merged_station=True),
        Sheet("Circuits", (CIRCUITS,), title=("20 kV circuits",), merged_station=True),
        Sheet("Overvoltage", (ARRESTERS, INSULATION), title=("Arresters and insulation",)),
        Sheet("VTs", (VTS,)),
        Sheet("EF relays", (RELAYS,)),
        Sheet("EF detection", (DETECTORS,)),
        Sheet("Earthing grids", (MATS,)),
        Sheet("Straps", (BONDS,), merged_station=True),
    ),
    seeds=SEEDS,
    waiting=(
        Waiting("SAN", "transformer", "T2", "unreadable", "vector group Dny5"),
        Waiting("PEL", "bond", "S3", "required_missing", "no equipment named"),
    ),
    unread=(
        Unread("TOL", "ground_grid", "EG1", "measured_resistance", "-3.1 Ω"),
        Unread("RUS", "ground_grid", "EG1", "measured_on", "03/10/2023"),
        Unread("SAN", "ground_grid", "EG1", "measured_on", "04/10/2023"),
    ),
    questions=(
        Question("mat/measurement-overdue", "RUS", "ground_grid", "EG1", "ground_grid.measured_on of EG1"),
        Question("mat/measurement-overdue", "SAN", "ground_grid", "EG1", "ground_grid.measured_on of EG1"),
        Question(
            "mat/step-voltage",
            "TOL",
            "ground_grid",
            "EG1",
            "ground_grid.fault_duration of EG1; ground_grid.spacing of EG1; "
            "ground_grid.surface_depth of EG1; ground_grid.surface_resistivity of EG1",
        ),
        Question(
            "mat/touch-voltage",
            "TOL",
            "ground_grid",
            "EG1",
            "ground_grid.fault_duration of EG1; ground_grid.spacing of EG1; "
            "ground_grid.surface_depth of EG1; ground_grid.surface_resistivity of EG1",
        ),
    ),
    asked=(Asked("I5", "date_order", "03/10/2023 is 3 October or 10 March; nothing in the file tells which"),),
)
