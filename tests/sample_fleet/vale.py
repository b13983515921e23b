"""Vale: 33/11 kV. No bus sheet, one wide transformer sheet in volts, British words, merged station cells."""

from register import Asked, Question, Register, Seed, Sheet, Table, Unread, Waiting

STATIONS = Table(
    "Station | Long name | Depot | Freq | Customer count | Remarks | Manned | Last survey",
    """
    BRN | Brenmoor Primary | Vale | 50 Hz | 8400 | | no | 2025-03-04
    CAL | Calderhay Primary | Vale | 50 Hz | 10150 | | no | 2025-03-04
    ELV | Elverstone Primary | Vale | 50 Hz | 5200 | access by farm track | no | 2025-03-04
    FOS | Fosswith Primary | Vale | 50 Hz | 4350 | | no | 2025-03-05
    HOB | Hobblethwaite Primary | Vale | 50 Hz | 3900 | | no | 2025-03-05
    INK | Inkerpool Primary | Vale | 50 Hz | 6100 | B11B split from B11A since 2021 | no | 2025-03-06
    """,
)

TRANSFORMERS = Table(
    "Station | Transformer No | HV busbar | LV busbar | Rating (MVA) | HV (V) | LV (V) | Vect grp | Impedance % | X/R "
    "| LV earthing | NER ohms | NER amps | NER time | NER voltage (V) | Year made",
    """
    BRN | T1 | B33 | B11 | 24 | 33000 | 11000 | Dyn11 | 14 | 24 | NER | 15.9 Ω | 400 | 10 s | 6360 | 1998
    BRN | T2 | B33 | B11 | 24 | 33000 | 11000 | Dyn11 | 14 | 24 | NER | 15.9 Ω | 400 | 30 s | 6360 | 1998
    CAL | T1 | B33 | B11 | 24 | 33000 | 11000 | Dyn11 | 14 | 24 | NER | 15.9 Ω | 400 | 1 min | 6360 | 2004
    CAL | T2 | B33 | B11 | 24 | 33000 | 11000 | Dyn11 | 14 | 24 | NER | 15.9 Ω | 400 | 1 min | 6360 | 2004
    ELV | T1 | B33 | B11 | 15 | 33000 | 11000 | Dyn11 | 12 | 20 | NER | 25 Ω | 400 | 30 s | 6360 | 1987
    ELV | T2 | B33 | B11 | 15 | 33000 | 11000 | Dd0 | 12 | 20 | | | | | | 1969
    FOS | T1 | B33 | B11 | 15 | 33000 | 11000 | Dyn11 | 12 | 20 | | | | | | 2011
    HOB | T1 | B33 | B11 | 12 | 33000 | 11000 | Dyn11 | 11 | 18 | NER | 15.9 Ω | 370 | 30 s | 6360 | 1992
    HOB | T2 | B33 | B11R | 12 | 33000 | 11000 | Dyn11 | 11 | 18 | NER | 15.9 Ω | 400 | 30 s | 5800 | 1974
    INK | T1 | B33 | B11A | 15 | 33000 | 11000 | Dyn11 | 12 | 20 | NER | 15.9 Ω | 400 | 30 s | 6360 | 2001
    INK | T2 | B33 | B11B | 15 | 33000 | 11000 | Dyn11 | 12 | 20 | | | | | | 2001
    INK | T3 | B11A | B04 | 0.5 | 11000 | 400 | Dyn11 | 4.75 | 5 | direct earth | | | | | 2001
    INK | T4 | B11A | B04 | 0.5 | 11000 | 690 | Dyn11 | 4.75 | 5 | direct earth | | | | | 2016
    """,
    notes=(
        "All voltages in volts.",
        "NER = neutral earthing resistor between the LV star point and the earth mat.",
    ),
)

NEUTRAL_PLANT = Table(
    "Station | Earthing device | Transformer | Winding | Device type | Ohms | Amps | Duty | Voltage (V) | Remarks "
    "| Reactor ohms",
    """
    ELV | NER9 | T2 | LV | earthing resistor | 15.9 Ω | 430 | 30 s | 6360 | moved from Brenmoor 2009 |
    FOS | NEX1 | T1 | LV | reactor | | 2000 | 30 s | 6360 | air core | 2.0 Ω
    """,
)

FEEDERS = Table(
    "Station | Feeder | Busbar | Far end | Circuit length | Type | R+ (ohm/km) | X+ (ohm/km) | Capacitance (nF/km)",
    """
    BRN | F1 | B11 | | 7.5 km | underground | 0.16 | 0.09 | 310
    BRN | F2 | B11 | | 5200 m | underground | 0.16 | 0.09 | 310
    CAL | F1 | B11 | | 9 km | underground | 0.16 | 0.09 | 310
    CAL | F2 | B11 | | 6.5 km | underground | 0.16 | 0.09 | 310
    ELV | F1 | B11 | | 18 km | O/H | 0.27 | 0.36 | 5.2
    FOS | F1 | B11 | | 21 km | O/H | 0.27 | 0.36 | 5.2
    HOB | F1 | B11 | | 15 km | O/H | 0.27 | 0.36 | 5.2
    HOB | F2 | B11R | | 12 km | O/H | 0.27 | 0.36 | 5.2
    INK | F1 | B11A | | 4 km | underground | 0.16 | 0.09 | 310
    INK | F9 | B33 | B11B | 0.3 km | underground | 0.16 | 0.09 | 310
    """,
)

COUPLERS = Table(
    "Station | Coupler | From bus | To bus | Normally",
    """
    HOB | BS1 | B11 | B11R | open
    INK | BS1 | B11A | B11B | open point
    """,
)

PROTECTION = Table(
    "Station | E/F relay | Ansi no | Protected plant | CT pri | CT sec | Primary setting (A) | Curve type "
    "| Time setting (s) | CB time (s) | Operates",
    """
    BRN | P1 | 51N | T1 | 300 | 5 | 90 | DTL | 12 | 0.1 | trip
    CAL | P1 | 51N | T1 | 300 | 5 | 90 | DTL | 8 | 0.1 | trip
    CAL | P2 | 51N | T2 | 300 | 5 | 90 | DTL | 8 | 0.1 | trip
    ELV | P1 | 51N | T1 | 300 | 5 | 60 | DTL | 8 | 0.1 | trip
    FOS | P1 | 51N | T1 | 600 | 5 | 180 | DTL | 2 | 0.1 | trip
    HOB | P1 | 51N | T1 | 300 | 5 | 90 | DTL | 8 | 0.1 | trip
    HOB | P2 | 51N | T2 | 300 | 5 | 90 | DTL | 8 | 0.1 | alarm
    INK | P1 | 51N | T1 | 300 | 5 | 90 | DTL | 8 | 0.1 | trip
    INK | P3 | 51N | T3 | 800 | 5 | 300 | DTL | 0.5 | 0.1 | trip
    INK | P4 | 51N | T4 | 800 | 5 | 300 | DTL | 0.5 | 0.1 | trip
    """,
)

DIVERTERS = Table(
    "Station | Surge diverter | Busbar | COV (V) | Rated voltage (V) | Connection | TOV 1 s (pu) | TOV 10 s (pu)",
    """
    BRN | SD1 | B33 | 22000 | 27000 | R Y B | 1.45 | 1.38
    CAL | SD1 | B33 | 29000 | 36000 | R Y B | 1.45 | 1.38
    ELV | SD1 | B33 | 29000 | 36000 | R Y B | 1.45 | 1.38
    FOS | SD1 | B33 | 29000 | 36000 | R Y B | 1.45 | 1.38
    FOS | SD2 | B11 | 10200 | 12000 | R Y B | 1.45 | 1.38
    HOB | SD1 | B33 | 29000 | 36000 | R Y B | 1.45 | 1.38
    HOB | SD-1 | B33 | 29000 | 36000 | R Y B | 1.45 | 1.38
    INK | SD1 | B33 | 29000 | 36000 | R Y B | 1.45 | 1.38
    """,
)

SWITCHGEAR = Table(
    "Station | Apparatus | Busbar | Type | Rated voltage (V) | Voltage to earth (V) | Lightning impulse (kV) "
    "| Cable level",
    """
    BRN | SWB11 | B11 | switchboard | 12000 | 6930 | 50 |
    CAL | SWB11 | B11 | switchboard | 12000 | 6930 | 95 |
    CAL | CF1 | B11 | XLPE cable | 11000 | 6350 | 95 | 100
    ELV | SWB11 | B11 | switchboard | 12000 | 6930 | 95 |
    FOS | SWB11 | B11 | switchboard | 12000 | 6930 | 95 |
    FOS | INS33 | B33 | post insulator | 36000 | 20800 | 170 |
    HOB | SWB11 | B11 | switchboard | 12000 | 6930 | 95 |
    INK | SWB11 | B11A | switchboard | 12000 | 6930 | 95 |
    """,
)

EARTH_MATS = Table(
    "Station | Earth mat | Mat area (m2) | Soil resistivity (ohm m) | Earth rods | Mat conductor "
    "| Earth resistance (ohm) | Date of test "
    "| Material | Long side (m) | Short side (m) | Mesh (m) | Buried conductor (m) | Mat depth (m) "
    "| Rod length (m) | Chippings resistivity (ohm m) | Chippings depth (m) | Split factor | Clearance time (s)",
    """
    BRN | EM1 | 1900 | 60 | 12 | 70 sq mm | 0.071 | 2022-03-08 | copper | 50 | 38 | 5 | 850 | 0.6 | 3 | 3000 \
| 0.1 | 0.7 | 1
    CAL | EM1 | 2100 | 55 | 12 | 70 sq mm | 0.64 | 2022-03-09 | copper | 50 | 42 | 5 | 930 | 0.6 | 3 | 3000 \
| 0.1 | 0.7 | 1
    ELV | EM1 | 1400 | 140 | 16 | 70 sq mm | 1.8 | 2011-11-21 | copper | 40 | 35 | 5 | 635 | 0.6 | 3 | 3000 \
| 0.1 | 0.7 | 1
    FOS | EM1 | 1600 | 95 | 12 | 70 sq mm | 1.1 | 2022-03-15 | copper | 40 | 40 | 5 | 720 | 0.6 | 3 | 3000 \
| 0.1 | 0.7 | 1
    HOB | EM1 | 1500 | 180 | 18 | 70 sq mm | 2.2 | 2021-06-02 | copper | 50 | 30 | 5 | 680 | 0.6 | 3 | 3000 \
| 0.1 | 0.7 | 1
    INK | EM1 | 1800 | 45 | 12 | 70 sq mm | 0.58 | 2022-03-16 | copper | 45 | 40 | 5 | 805 | 0.6 | 3 | 3000 \
| 0.1 | 0.7 | 1
    """,
)

EARTH_TAILS = Table(
    "Station | Earth tail | Plant | Plant type | Earth tape | No off | Jointing | Connected to earth grid "
    "| Tape material",
    """
    BRN | ET01 | T1 | transformer | 25 x 4 mm | 2 | brazed | yes | copper
    BRN | ET02 | T2 | transformer | 25 x 4 mm | 2 | brazed | yes | copper
    CAL | ET01 | T1 | transformer | 25 x 4 mm | 2 | brazed | yes | copper
    CAL | ET02 | T2 | transformer | 25 x 4 mm | 2 | brazed | yes | copper
    ELV | ET01 | T1 | transformer | 25 x 4 mm | 2 | bolted | yes | copper
    FOS | ET01 | T1 | transformer | 25 x 4 mm | 2 | brazed | yes | copper
    FOS | ET02 | SWB11 | switchboard | 25 x 4 mm | 1 | bolted | yes | copper
    FOS | ET02 | SWB11 | switchboard | 25 x 4 mm | 1 | bolted | yes | copper
    HOB | ET01 | T1 | transformer | 25 x 4 mm | 2 | bolted | yes | copper
    HOB | ET02 | T2 | transformer | 25 x 4 mm | 2 | bolted | no - cut by thieves | copper
    INK | ET01 | T1 | transformer | 25 x 4 mm | 2 | brazed | yes | copper
    INK | ET02 | SD1 | surge diverter | 25 x 4 mm | 1 | bolted | no | copper
    """,
)

SEEDS = (
    Seed("detection/neutral-relay", "BRN", "neutral_device", "T2 LV neutral", "no relay measures its neutral current"),
    Seed(
        "neutral-devices/rated-time", "BRN", "neutral_device", "T1 LV neutral", "rated 10 s; its relay trips after 12 s"
    ),
    Seed(
        "neutral-devices/nameplate-agreement",
        "ELV",
        "neutral_device",
        "T1 LV neutral",
        "6360 V, 25 Ω and 400 A disagree",
    ),
    Seed(
        "return-path/device-without-neutral", "ELV", "neutral_device", "NER9", "in the LV neutral of T2, which is Dd0"
    ),
    Seed(
        "neutral-devices/rated-current",
        "HOB",
        "neutral_device",
        "T1 LV neutral",
        "rated 370 A; it passes about 389 A (marginal)",
    ),
    Seed("neutral-devices/rated-voltage", "HOB", "neutral_device", "T2 LV neutral", "rated 5.8 kV on an 11 kV system"),
    Seed("return-path/neutral-treatment", "INK", "transformer", "T2", "LV star point with no record of its treatment"),
    Seed("record/left-out", "INK", "line", "F9", "joins the 33 kV busbar to an 11 kV busbar"),
    Seed("record/contradicting-mentions", "INK", "bus", "B04", "400 V by T3, 690 V by T4"),
    Seed("bonding/connected-to-mat", "INK", "bond", "ET02", "surge diverters not connected to the mat"),
    Seed(
        "arresters/temporary-overvoltage",
        "BRN",
        "arrester",
        "SD1",
        "COV 22 kV bears 31.2 kV for 3 s; a ground fault puts 32.7 kV on it",
    ),
    Seed("detection/alarm-only", "HOB", "bus", "B11R", "its only earth fault relay, P2, gives an alarm"),
    Seed(
        "insulation/standard-bil", "BRN", "insulation", "SWB11", "impulse withstand 50 kV; 60 kV is the least at 11 kV"
    ),
    Seed("mat/computed-agreement", "BRN", "ground_grid", "EM1", "0.071 Ω typed for 0.71 Ω"),
    Seed("mat/measurement-overdue", "ELV", "ground_grid", "EM1", "last measured in 2011"),
    Seed("record/duplicated", "HOB", "arrester", "SD1", "entered twice, as SD1 and SD-1"),
    Seed(
        "return-path/source-outage",
        "ELV",
        "bus",
        "B11",
        "T2 is Dd0: with T1 out it feeds the busbar, and nothing earths it",
    ),
)

BUSES = {
    "BRN": ("B11", "B33"),
    "CAL": ("B11", "B33"),
    "ELV": ("B11", "B33"),
    "FOS": ("B11", "B33"),
    "HOB": ("B11", "B11R", "B33"),
    "INK": ("B04", "B11A", "B11B", "B33"),
}

QUESTIONS = (
    Question("bonding/connected-to-mat", "HOB", "bond", "ET02", "bond.connected_to_grid of ET02"),
    Question("detection/reach", "INK", "ground_relay", "P3", "bus.nominal_voltage of B04"),
    Question("detection/reach", "INK", "ground_relay", "P4", "bus.nominal_voltage of B04"),
    Question("detection/ungrounded-zone", "INK", "bus", "B11B", "transformer.lv_neutral of T2"),
    Question(
        "mat/conductor-area", "INK", "ground_grid", "EM1", "bus.nominal_voltage of B04; transformer.lv_neutral of T2"
    ),
    Question("mat/potential-rise", "INK", "ground_grid", "EM1", "transformer.lv_neutral of T2"),
    Question(
        "mat/step-voltage",
        "INK",
        "ground_grid",
        "EM1",
        "transformer.lv_neutral of T2",
    ),
    Question(
        "mat/touch-voltage",
        "INK",
        "ground_grid",
        "EM1",
        "transformer.lv_neutral of T2",
    ),
    Question("return-path/customary-method", "INK", "bus", "B11B", "transformer.lv_neutral of T2"),
    Question("return-path/ground-source", "INK", "bus", "B11B", "transformer.lv_neutral of T2"),
    Question("return-path/source-outage", "INK", "bus", "B04", "bus.nominal_voltage of B04"),
)

REGISTER = Register(
    file="VALE primary subs - transformers and earthing.xlsx",
    story=(
        "**Vale** holds six 33/11 kV primaries. Its workbook has no busbar sheet: busbars are named in the transformer "
        "sheet, whose rows also describe the neutral earthing resistor. Volts throughout, British words, station cells "
        "merged down, notes under the tables."
    ),
    sheets=(
        Sheet("Sites", (STATIONS,), title=("Vale Depot",)),
        Sheet(
            "Transformers", (TRANSFORMERS,), title=("TRANSFORMERS AND NEUTRAL EARTHING", "Vale"), merged_station=True
        ),
        Sheet("Other neutral plant", (NEUTRAL_PLANT,)),
        Sheet("11kV feeders", (FEEDERS,), title=("Feeders and interconnectors",), merged_station=True),
        Sheet("Couplers", (COUPLERS,)),
        Sheet("EF protection", (PROTECTION,), title=("Earth fault protection settings",), merged_station=True),
        Sheet("Surge diverters", (DIVERTERS,)),
        Sheet("Switchgear", (SWITCHGEAR,), merged_station=True),
        Sheet("Earth mats", (EARTH_MATS,)),
        Sheet("Earth tails", (EARTH_TAILS,), title=("Earth tails inspected 2022",), merged_station=True),
    ),
    seeds=SEEDS,
    waiting=(Waiting("FOS", "bond", "ET02", "duplicate", "the row above once more"),),
    unread=(Unread("HOB", "bond", "ET02", "connected_to_grid", "no - cut by thieves"),),
    questions=QUESTIONS,
    asked=(Asked("B8", "tag", "SD-1 and SD1 may be one surge diverter or two"),),
)
