"""Northmarch: generation and 110 kV. A sheet a table, kilovolts, American words, kept by one careful person."""

from northmarch_secondary import SECONDARY_SEEDS, SECONDARY_SHEETS
from register import Question, Register, Seed, Sheet, Table

STATIONS = Table(
    "Station | Full name | Region | Licence | Freq (Hz) | Priority (1-5) | Customers | Manned | Record verified on",
    """
    KES | Kessel Falls power station | Northmarch | Ormscar Vale Electricity | 50 | 5 | | yes | 2025-02-18
    ARD | Ardlemuir power station | Northmarch | Ormscar Vale Electricity | 50 | 5 | | yes | 2025-02-18
    HAR | Hartwickle grid substation | Northmarch | Ormscar Vale Electricity | 50 | 5 | 31400 | no | 2025-02-11
    THR | Thravemoor switching station | Northmarch | Ormscar Vale Electricity | 50 | 5 | | no | 2025-01-29
    OSM | Ossendale grid substation | Northmarch | Ormscar Vale Electricity | 50 | 4 | 18250 | no | 2016-05-30
    UPW | Upwenna grid substation | Northmarch | Ormscar Vale Electricity | 50 | 4 | 9700 | no | 2025-02-20
    GRE | Grennock Town | Northmarch | Ormscar Vale Electricity | 50 | 3 | 12100 | yes | 2025-01-28
    """,
)

BUSES = Table(
    "Station | Bus | Nominal kV | Highest kV | System grounding | Runs on | Clearing time (s) | Wires | Drawing no "
    "| Ground fault current limit (A)",
    """
    KES | M110 | 110 | 123 | effectively grounded | no | 0.5 | 3 wire | N-110-01 |
    KES | G1   | 11  | 12  | high resistance | no | 1 | | |
    KES | G2   | 11  | 12  | high resistance | no | 1 | | |
    KES | SS | 0.4 | 0.44 | solidly grounded | no | 0.5 | 4 wire | |
    ARD | M110 | 110 | 123 | effectively grounded | no | 0.5 | 3 wire | N-110-02 |
    ARD | G1   | 10.5 | 12 | high resistance | no | 1 | | |
    ARD | G2   | 10.5 | 12 | | no | 1 | | |
    HAR | M110 | 110 | 12.3 | effectively grounded | no | 0.5 | 3 wire | N-110-03 |
    HAR | B33A | 33  | 36  | low resistance | no | 3 | 3 wire | N-033-03 | 1000
    HAR | B33B | 33  | 36  | low resistance | no | 3 | 3 wire | N-033-03 | 1000
    THR | M110 | 110 | 123 | effectively grounded | no | 0.5 | 3 wire | N-110-04 |
    THR | R110 | 110 | 123 | effectively grounded | no | 0.5 | 3 wire | N-110-04 |
    OSM | M110 | 110 | 123 | effectively grounded | no | 0.5 | 3 wire | N-110-05 |
    OSM | B33  | 33  | 36  | | no | 3 | 3 wire | N-033-05 | 1000
    UPW | M110 | 110 | 123 | effectively grounded | no | 0.5 | 3 wire | N-110-06 |
    UPW | B33  | 33  | 36  | solidly grounded | no | 3 | 3 wire | N-033-06 | 1000
    GRE | M110 | 110 | 123 | effectively grounded | no | 0.5 | 3 wire | N-110-07 |
    GRE | B11  | 11  | 12  | low resistance | no | 3 | 3 wire | N-011-07 | 1000
    """,
    notes=("Clearing time is that of the slowest back-up. Highest voltages from the 2019 voltage study.",),
)

INFEEDS = Table(
    "Station | Grid supply | At bus | Fault level (MVA) | X/R | 1ph kA | Min fault level (MVA) | Min x/r "
    "| Min earth fault current (kA) | Grounded",
    """
    THR | NGS1 | M110 | 3500 | 12 | 16.0 | 2200 | 11 | 10.2 | yes
    HAR | NGS2 | M110 | 2000 | 10 | 9.2 | 1300 | 10 | 6.1 | yes
    """,
)

GENERATORS = Table(
    "Station | Machine | Terminal bus | MVA | Terminal voltage (kV) | X''d (pu) | X2 (pu) | X0 (pu) | Ra (pu) "
    "| Stator connection | C to ground (µF)",
    """
    KES | G1 | G1 | 63 | 11   | 0.18 | 0.20 | 0.08 | 0.003 | star | 0.35
    KES | G2 | G2 | 63 | 11   | 0.18 | 0.20 | 0.08 | 0.003 | star | 0.35
    ARD | G1 | G1 | 80 | 10.5 | 0.16 | 0.17 | 0.07 | 0.002 | star | 0.30
    ARD | G2 | G2 | 42 | 10.5 | 0.19 | 0.21 | 0.08 | 0.003 | star | 0.25
    """,
    notes=("C to ground: winding, bus duct, surge capacitor and GSU low-voltage winding together, per phase.",),
)

TRANSFORMERS = Table(
    "Station | Transformer | Primary bus | Secondary bus | MVA | HV kV | LV kV | Vector grp | %Z | X/R | Z0% "
    "| Impedance HV-TV | Impedance LV-TV | Tertiary MVA | Tertiary kV | Core | Manufacturer "
    "| Graded neutral | Neutral BIL (kV)",
    """
    KES | GT1 | M110 | G1 | 70 | 110 | 11 | YNd11 | 12.5 | 35 | 11.0 | | | | | five limb | Bolthorn | yes |
    KES | GT2 | M110 | G2 | 70 | 110 | 11 | YNd11 | 12.5 | 35 | 11.0 | | | | | five limb | Bolthorn | yes |
    KES | SST1 | G1 | SS | 1.6 | 11 | 0.4 | Dyn11 | 6 | 6 | 5.7 | | | | | three limb | Anvick | no |
    ARD | GT1 | M110 | G1 | 90 | 110 | 10.5 | YNd11 | 13 | 38 | 11.5 | | | | | five limb | Bolthorn | yes |
    ARD | GT2 | M110 | G2 | 50 | 110 | 10.5 | YNd11 | 12.5 | 34 | 11.0 | | | | | five limb | Bolthorn | yes |
    HAR | T1 | M110 | B33A | 60 | 110 | 33 | YNyn0d11 | 12.5 | 25 | | 7.0 | 2.4 | 20 | 11 | three limb | Anvick | yes |
    HAR | T2 | M110 | B33B | 60 | 110 | 33 | YNyn0d11 | 12.5 | 25 | | 7.0 | 2.4 | 20 | 11 | three limb | Anvick | yes |
    OSM | T1 | M110 | B33 | 45 | 110 | 33 | YNd11 | 12 | 22 | 10.5 | | | | | three limb | Anvick | yes |
    OSM | T2 | M110 | B33 | 45 | 110 | 33 | YNd11 | 12 | 22 | 10.5 | | | | | three limb | Anvick | yes |
    UPW | T1 | M110 | B33 | 40 | 110 | 33 | YNd1 | 12 | 22 | 10.4 | | | | | three limb | Bolthorn | | 95
    GRE | T1 | M110 | B11 | 20 | 110 | 11 | YNyn0d11 | 11 | 20 | | 6.3 | 2.0 | 7 | 6.6 | three limb | Anvick | yes |
    """,
    notes=(
        "HV-LV impedance on the rating of the unit, HV-TV and LV-TV on that of the tertiary.",
        "Tertiaries are stabilizing windings, not brought out.",
    ),
)

NEUTRALS = Table(
    "Station | Device tag | Neutral of | Winding side | Device type | Ohms | Rated amps | Time rating "
    "| Device voltage (kV) | Continuity monitor | Primary V | Secondary V | Secondary ohms | kVA "
    "| BIL (kV)",
    """
    KES | NL1  | GT1  | HV | solid link | | | | | | | | | |
    KES | NL2  | GT2  | HV | solid link | | | | | | | | | |
    KES | NL3  | SST1 | LV | solid link | | | | | | | | | |
    KES | NGT1 | G1   |    | distribution transformer | | 3 A | continuous | 11 | yes | 11000 | 240 | 1.2 | 25 | 95
    KES | NGT2 | G2   |    | distribution transformer | | 3 A | continuous | 11 | yes | 11000 | 240 | 1.2 | 25 | 95
    ARD | NL1  | GT1  | HV | solid link | | | | | | | | | |
    ARD | NL2  | GT2  | HV | solid link | | | | | | | | | |
    ARD | NGT1 | G1 | | distribution transformer | | 2 A | continuous | 6.35 | yes | 6350 | 240 | 6.0 | 15 | 75
    HAR | NL1  | T1   | HV | solid link | | | | | | | | | |
    HAR | NL2  | T2   | HV | solid link | | | | | | | | | |
    HAR | NER1 | T1 | LV | NGR | 19.1 Ω | 1000 A | 30 s | 19.1 | no | | | | | 170
    HAR | NER2 | T2   | LV | NGR | 19.1 Ω | 1000 A | 30 s | 19.1 | yes | | | | | 170
    OSM | NL1  | T1   | HV | solid link | | | | | | | | | |
    OSM | NL2 | T2 | HV | open link | | | | | | | | | |
    UPW | NL1 | T1 | HV | open link | | | | | | | | | |
    UPW | NER1 | ET1  |    | NGR | 19.1 Ω | 1000 A | 30 s | 19.1 | yes | | | | | 75
    GRE | NL1  | T1   | HV | solid link | | | | | | | | | |
    GRE | NER1 | T1   | LV | NGR | 6.35 Ω | 1000 A | 10 s | 6.36 | no | | | | | 75
    """,
)

GROUNDING_BANKS = Table(
    "Station | Grounding bank | On bus | Winding | kV | Z0 per phase (ohm) | Neutral current (A) | Time rating "
    "| Continuous amps "
    "| kVA",
    """
    OSM | ET1 | B33 | zig-zag | 33 | 54  | 600 | 30 s | 30 | 1200
    UPW | ET1 | B33 | zig-zag | 30 | 18 | 1000 | 10 s | 30 | 1000
    """,
)

LINES = Table(
    "Station | Line | From bus | To bus | Route length (km) | Type | R1 (ohm/km) | X1 (ohm/km) | R0 (ohm/km) "
    "| X0 (ohm/km) | C0 (nF/km) | OPGW | Bonded here | Bonded far end",
    """
    KES | L101 | M110 | HAR:M110 | 38 | overhead | 0.12 | 0.40 | 0.30 | 1.15 | 5.0 | AS 70 | yes | yes
    HAR | L102 | M110 | THR:M110 | 24 | overhead | 0.12 | 0.40 | 0.30 | 1.15 | 5.0 | AS 70 | yes | yes
    THR | L103 | R110 | ARD:M110 | 31 | overhead | 0.12 | 0.40 | 0.30 | 1.15 | 5.0 | AS 70 | yes | yes
    HAR | L104 | M110 | OSM:M110 | 27 | overhead | 0.12 | 0.40 | 0.30 | 1.15 | 5.0 | AS 70 | yes | no
    OSM | L105 | M110 | UPW:M110 | 18 | overhead | 0.12 | 0.40 | 0.30 | 1.15 | 5.0 | AS 70 | yes | yes
    THR | L106 | M110 | LIN:M110 | 33 | overhead | 0.12 | 0.40 | 0.30 | 1.15 | 5.0 | AS 70 | yes | yes
    ARD | L107 | M110 | PEL:M110 | 26 | overhead | 0.12 | 0.40 | 0.30 | 1.15 | 5.0 | AS 70 | yes | yes
    OSM | L108 | M110 | GRE:M110 | 12 | overhead | 0.12 | 0.40 | 0.30 | 1.15 | 5.0 | AS 70 | yes | yes
    HAR | L331 | B33A | BRN:B33 | 14 | cable | 0.10 | 0.12 | 0.40 | 0.18 | 190 | | |
    HAR | L332 | B33B | CAL:B33 | 9 | cable | 0.10 | 0.12 | 0.40 | 0.18 | 190 | | |
    OSM | L333 | B33 | ELV:B33 | 16 | overhead | 0.16 | 0.38 | 0.31 | 1.20 | 5.5 | | |
    OSM | L334 | B33 | FOS:B33 | 11 | overhead | 0.16 | 0.38 | 0.31 | 1.20 | 5.5 | | |
    UPW | L335 | B33 | HOB:B33 | 19 | overhead | 0.16 | 0.38 | 0.31 | 1.20 | 5.5 | | |
    UPW | L336 | B33 | INK:B33 | 22 | overhead | 0.16 | 0.38 | 0.31 | 1.20 | 5.5 | | |
    UPW | L337 | B33 | QM1:B33 | 6 | cable | 0.10 | 0.12 | 0.40 | 0.18 | 190 | | |
    GRE | L111 | B11 | | 6.5 | cable | 0.16 | 0.09 | 0.55 | 0.15 | 310 | | |
    GRE | L112 | B11 | | 4.2 | cable | 0.16 | 0.09 | 0.55 | 0.15 | 310 | | |
    """,
)

SWITCHES = Table(
    "Station | Switch | Bus 1 | Bus 2 | Normal position",
    """
    HAR | BC33 | B33A | B33B | closed
    THR | BC110 | M110 | R110 | N/C
    """,
)

SEEDS = (
    Seed("record/highest-below-nominal", "HAR", "bus", "M110", "highest voltage 12.3 kV typed for 123 kV"),
    Seed(
        "return-path/declared-grounding",
        "UPW",
        "bus",
        "B33",
        "declared solidly grounded; its only ground source is a zigzag bank with 19.1 Ω in its neutral",
    ),
    Seed("return-path/generator-neutral", "ARD", "generator", "G2", "star-connected, nothing on record in its neutral"),
    Seed(
        "grounding-transformers/neutral-current",
        "OSM",
        "grounding_transformer",
        "ET1",
        "rated 600 A; 54 Ω a phase and no resistor pass about 960 A",
    ),
    Seed(
        "grounding-transformers/rated-time",
        "UPW",
        "grounding_transformer",
        "ET1",
        "rated 10 s; its back-up relay trips after 20 s",
    ),
    Seed(
        "neutral-devices/transformer-resistor",
        "ARD",
        "neutral_device",
        "NGT1",
        "6.0 Ω on 6350/240 V passes 1.44 A; 0.30 µF a phase charges 1.71 A",
    ),
    Seed(
        "neutral-devices/transformer-voltage",
        "ARD",
        "neutral_device",
        "NGT1",
        "6.35 kV primary saturates when field forcing puts 7.9 kV on it",
    ),
    Seed(
        "neutral-devices/monitoring",
        "HAR",
        "neutral_device",
        "NER1",
        "no continuity monitor, and nobody at the station",
    ),
    Seed(
        "neutral-devices/neutral-insulation",
        "UPW",
        "neutral_device",
        "NER1",
        "BIL 75 kV in a neutral that rises to 19.1 kV",
    ),
    Seed("insulation/graded-neutral", "OSM", "transformer", "T2", "graded neutral, and the link to ground is open"),
    Seed(
        "insulation/neutral-bil", "UPW", "transformer", "T1", "neutral end of 95 kV BIL, and the link to ground is open"
    ),
    Seed(
        "grounding-transformers/effectiveness", "OSM", "grounding_transformer", "ET1", "the same 54 Ω leave X0/X1 at 20"
    ),
    Seed(
        "grounding-transformers/power",
        "UPW",
        "grounding_transformer",
        "ET1",
        "1000 kVA; the fault of 20 s needs 1353 kVA",
    ),
    Seed("grounding-transformers/voltage", "UPW", "grounding_transformer", "ET1", "wound for 30 kV on a 33 kV bus"),
    Seed(
        "return-path/intended-current",
        "HAR",
        "bus",
        "B33A",
        "meant for 1000 A; the closed coupler puts two resistors of 1000 A in parallel",
    ),
    Seed("return-path/intended-current", "HAR", "bus", "B33B", "the same by the same coupler"),
    Seed("return-path/shield-wire-bonding", "HAR", "line", "L104", "ground wire not bonded at OSM"),
    Seed("record/stale", "OSM", "substation", "OSM", "record last compared with the station in 2016"),
    Seed(
        "return-path/source-outage",
        "ELV",
        "bus",
        "B33",
        "both 33 kV transformers of OSM are YNd11: with its one grounding bank out nothing grounds the zone",
    ),
)

REGISTER = Register(
    file="northmarch_grid_plant.xlsx",
    story=(
        "**Northmarch** holds the two power stations and the 110 kV grid. Its register is kept by one engineer: a "
        "sheet for each kind of plant, kilovolts throughout, American words, most units in the headings."
    ),
    sheets=(
        Sheet("Stations", (STATIONS,), title=("Ormscar Vale Electricity - Northmarch District", "Grid plant register")),
        Sheet("Buses", (BUSES,), title=("Buses, Northmarch",)),
        Sheet("Grid supplies", (INFEEDS,), title=("Supplies from the national grid, agreed values",)),
        Sheet("Generators", (GENERATORS,)),
        Sheet("Transformers", (TRANSFORMERS,), title=("Power transformers, Northmarch", "Nameplate values")),
        Sheet("Neutrals", (NEUTRALS,), title=("Neutral equipment",)),
        Sheet("Grounding banks", (GROUNDING_BANKS,)),
        Sheet("Lines", (LINES,), title=("110 kV and 33 kV lines by sending station",)),
        Sheet("Switches", (SWITCHES,)),
        *SECONDARY_SHEETS,
    ),
    seeds=SEEDS + SECONDARY_SEEDS,
    questions=(
        Question("detection/ungrounded-zone", "ARD", "bus", "G2", "generator.neutral_device of G2"),
        Question("mat/conductor-area", "ARD", "ground_grid", "M1", "generator.neutral_device of G2"),
        Question("mat/potential-rise", "ARD", "ground_grid", "M1", "generator.neutral_device of G2"),
        Question(
            "mat/step-voltage",
            "ARD",
            "ground_grid",
            "M1",
            "generator.neutral_device of G2",
        ),
        Question(
            "mat/touch-voltage",
            "ARD",
            "ground_grid",
            "M1",
            "generator.neutral_device of G2",
        ),
        Question("return-path/customary-method", "ARD", "bus", "G2", "generator.neutral_device of G2"),
        Question("return-path/ground-source", "ARD", "bus", "G2", "generator.neutral_device of G2"),
        Question("return-path/source-outage", "ARD", "bus", "G2", "generator.neutral_device of G2"),
    ),
)
