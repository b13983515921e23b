"""The secondary circuits of all districts: one csv file, kept by the protection test team."""

from register import Register, Seed, Sheet, Table

CIRCUITS = Table(
    "Station | Circuit ref | CT or VT | Fed from | Earthed at | Wire size | Run (m) | Tested on | Remarks",
    """
    KES | VT1-P | VT | VT1 | relay panel RP1 | 2.5 mm² | 85 | 2023-05-11 |
    KES | VT2-BD | VT | VT2 | relay panel RP1 | 2.5 mm² | 40 | 2023-05-11 |
    KES | CT1-P | CT | CT1 | relay panel RP1 | 4 mm² | 85 | 2023-05-11 |
    ARD | VT1-P | VT | VT1 | relay panel RP1 | 2.5 mm² | 70 | 2022-09-02 |
    ARD | CT1-P | CT | CT1 | CT kiosk in yard | 4 mm² | 70 | 2022-09-02 |
    HAR | VT1-P | VT | VT1 | relay panel RP2 | 2.5 mm² | 90 | 2023-06-20 |
    HAR | VT2-P | VT | VT2 | relay panel RP3 | 2.5 mm² | 30 | 2023-06-20 |
    HAR | CT1-P | CT | CT1 | relay panel RP3 | 4 mm² | 30 | 2023-06-20 |
    HAR | CT2-P | CT | CT2 | none | 4 mm² | 32 | 2023-06-20 | link left out after panel change
    HAR | CT3-P | CT | CT3 | relay panel RP2 | 4 mm² | 90 | 2023-06-20 |
    THR | VT1-P | VT | VT1 | relay panel RP1 | 2.5 mm² | 110 | 2021-04-15 |
    THR | CT1-P | CT | CT1 | relay panel RP1 | 4 mm² | 110 | 2021-04-15 |
    OSM | VT1-P | VT | VT1 | relay panel RP1 | 2.5 mm² | 25 | 2023-06-22 |
    OSM | CT1-P | CT | CT1 | marshalling kiosk; relay panel RP1 | 4 mm² | 25 | 2023-06-22 |
    OSM | CT2-P | CT | CT2 | relay panel RP1 | 4 mm² | 70 | 2023-06-22 |
    UPW | VT1-P | VT | VT1 | relay panel RP1 | 2.5 mm² | 28 | 2020-10-08 |
    UPW | CT1-P | CT | CT1 | relay panel RP1 | 4 mm² | 28 | 2020-10-08 |
    GRE | VT1-P | VT | VT1 | relay panel RP1 | 2.5 mm² | 20 | 2023-03-29 |
    GRE | CT1-P | CT | CT1 | relay panel RP1 | 4 mm² | 20 | 2023-03-29 |
    GRE | CT2-P | CT | CT2 | relay panel RP1 | 4 mm² | 60 | 2023-03-29 |
    LIN | VT20-OD | VT | VT20 | VT box; relay panel RP1 | 2.5 mm² | 22 | 2024-02-12 | fuse box bonded as well
    LIN | CT20-P | CT | CT20 | relay panel RP1 | 4 mm² | 22 | 2024-02-12 |
    PEL | VT20-P | VT | VT20 | relay panel RP1 | 2.5 mm² | 24 | 2024-02-13 |
    PEL | CT20-P | CT | CT20 | relay panel RP1 | 4 mm² | 24 | 2024-02-13 |
    SAN | VT20-OD | VT | VT20 | RMU panel | 2.5 mm² | 6 | 2023-10-04 |
    QM1 | VTA-BD | VT | VTA | board A66 panel 1 | 2.5 mm² | 4 | 2024-04-18 |
    QM1 | VTB-BD | VT | VTB | board B66 panel 1 | 2.5 mm² | 4 | 2024-04-18 |
    QM4 | VTG-S | VT | VTG | generator panel | 2.5 mm² | 12 | 2024-04-19 |
    QM5 | VTE-S | VT | VTE | none | 2.5 mm² | 9 | 2024-04-19 |
    QM5 | VTD-BD | VT | VTD | board D69 panel 1 | 2.5 mm² | 5 | 2024-04-19 |
    """,
)

SEEDS = (
    Seed("secondaries/no-ground", "HAR", "secondary_circuit", "CT2-P", "grounded nowhere"),
    Seed("secondaries/several-grounds", "OSM", "secondary_circuit", "CT1-P", "grounded at the kiosk and at the panel"),
    Seed(
        "secondaries/several-grounds", "LIN", "secondary_circuit", "VT20-OD", "grounded at the VT box and at the panel"
    ),
    Seed("secondaries/no-ground", "QM5", "secondary_circuit", "VTE-S", "grounded nowhere"),
    Seed(
        "secondaries/double-ground-current",
        "OSM",
        "secondary_circuit",
        "CT1-P",
        "the same two grounds: a ground fault elsewhere drives 186 A through it",
    ),
    Seed("secondaries/ground-place", "ARD", "secondary_circuit", "CT1-P", "grounded in the yard"),
    Seed("secondaries/ground-record", "UPW", "instrument_transformer", "CT2", "no circuit on record"),
)

REGISTER = Register(
    file="secondary_circuits.csv",
    story=(
        "**The protection test team** serves all four districts and keeps one csv file of instrument-transformer "
        "circuits, with where each is earthed; its spreadsheet program writes semicolons and Windows-1252."
    ),
    sheets=(Sheet("secondary_circuits", (CIRCUITS,)),),
    seeds=SEEDS,
)
