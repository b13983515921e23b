"""The rest of the Northmarch register: arresters, insulation, instrument transformers, relays, mats, bonds."""

from register import Seed, Sheet, Table

ARRESTERS = Table(
    "Station | Arrester | At bus | MCOV (kV) | Ur (kV) | TOV 1 s (pu) | TOV 10 s (pu) | Connected",
    """
    KES | SA1 | M110 | 77 | 96 | 1.45 | 1.38 | phase
    KES | SA2 | G1 | 15.3 | 18 | 1.45 | 1.38 | phase
    KES | SA3 | G2 | 15.3 | 18 | 1.45 | 1.38 | phase
    ARD | SA1 | M110 | 77 | 96 | 1.45 | 1.38 | phase
    HAR | SA1 | M110 | 77 | 96 | 1.45 | 1.38 | phase
    HAR | SA2 | B33A | 29 | 36 | 1.45 | 1.38 | phase
    HAR | SA3 | B33B | 17.5 | 21 | 1.45 | 1.38 | phase
    HAR | SA4 | B33A | 17 | 21 | 1.45 | 1.38 | neutral
    THR | SA1 | M110 | 77 | 96 | 1.45 | 1.38 | phase
    OSM | SA1 | M110 | 77 | 96 | 1.45 | 1.38 | phase
    OSM | SA2 | B33 | 29 | 36 | 1.45 | 1.38 | phase
    UPW | SA1 | M110 | 125 | 156 | 1.45 | 1.38 | phase
    UPW | SA2 | B33 | 29 | 36 | 1.45 | 1.38 | phase
    GRE | SA1 | M110 | 77 | 96 | 1.45 | 1.38 | phase
    GRE | SA2 | B11 | 10.2 | 12 | 1.45 | 1.38 | phase
    """,
)

INSULATION = Table(
    "Station | Equipment | At bus | Equipment type | Rated kV | L-G rating (kV) | BIL (kV) | Insulation level (%) "
    "| Supplier",
    """
    KES | CB101 | M110 | circuit breaker | 123 | 71.0 | 550 | | Bolthorn
    KES | GW1 | G1 | stator | 12 | 6.93 | 75 | | Anvick
    KES | GW2 | G2 | stator | 12 | 6.93 | 75 | | Anvick
    KES | SSB | SS | switchboard | 1.0 | 0.58 | 8 | |
    ARD | CB103 | M110 | circuit breaker | 123 | 71.0 | 550 | | Bolthorn
    ARD | GW1 | G1 | stator | 12 | 6.93 | 75 | | Anvick
    HAR | CB102 | M110 | circuit breaker | 123 | 71.0 | 550 | | Bolthorn
    HAR | SB33 | B33A | metalclad | 36 | 20.8 | 170 | |
    HAR | CA331 | B33A | XLPE cable | 33 | 19 | 170 | 100 |
    HAR | CA332 | B33B | XLPE cable | 33 | 19 | 170 | 100 |
    THR | CB105 | M110 | circuit breaker | 123 | 71.0 | 550 | | Bolthorn
    THR | PI1 | R110 | post insulator | 123 | 71.0 | 550 | |
    OSM | CB104 | M110 | circuit breaker | 123 | 71.0 | 550 | | Bolthorn
    OSM | SB33 | B33 | metalclad | 36 | 20.8 | 170 | |
    UPW | CB106 | M110 | circuit breaker | 123 | 71.0 | 550 | | Bolthorn
    UPW | SB33 | B33 | metalclad | 36 | 20.8 | 170 | |
    UPW | CA337 | B33 | XLPE cable | 33 | 19 | 170 | 100 |
    GRE | TB1 | M110 | transformer bushing | 123 | 71.0 | 550 | |
    GRE | SB11 | B11 | metalclad | 12 | 6.93 | 75 | |
    """,
)

INSTRUMENT_TRANSFORMERS = Table(
    "Station | IT | CT or VT | At bus | VT connection | Rated primary | Rated secondary | Voltage factor | VF time",
    """
    KES | VT1 | VT | M110 | YNyn | 110000 V | 110 V | 1.5 | 30 s
    KES | VT2 | VT | G1 | star/broken delta | 11000 V | 110 V | 1.9 | 8 h
    KES | CT1 | CT | M110 | | 400 A | 1 A | |
    ARD | VT1 | VT | M110 | YNyn | 110000 V | 110 V | 1.5 | 30 s
    ARD | CT1 | CT | M110 | | 600 A | 1 A | |
    HAR | VT1 | VT | M110 | YNyn | 110000 V | 110 V | 1.5 | 30 s
    HAR | VT2 | VT | B33A | YNyn | 33000 V | 110 V | 1.9 | 30 s
    HAR | CT1 | CT | B33A | | 1200 A | 1 A | |
    HAR | CT2 | CT | B33B | | 1200 A | 1 A | |
    HAR | CT3 | CT | M110 | | 1200 A | 1 A | |
    THR | VT1 | VT | M110 | YNyn | 110000 V | 110 V | 1.5 | 30 s
    THR | CT1 | CT | M110 | | 1200 A | 1 A | |
    OSM | VT1 | VT | B33 | YNyn | 33000 V | 110 V | 1.5 | 30 s
    OSM | CT1 | CT | B33 | | 1000 A | 1 A | |
    OSM | CT2 | CT | M110 | | 600 A | 1 A | |
    UPW | VT1 | VT | B33 | YNyn | 33000 V | 110 V | 1.9 | 30 s
    UPW | CT1 | CT | B33 | | 800 A | 1 A | |
    UPW | CT2 | CT | M110 | | 400 A | 1 A | |
    GRE | VT1 | VT | B11 | YNyn | 11000 V | 110 V | 1.9 | 30 s
    GRE | CT1 | CT | B11 | | 1200 A | 1 A | |
    GRE | CT2 | CT | M110 | | 400 A | 1 A | |
    """,
)

RELAYS = Table(
    "Station | Relay | ANSI code | Measuring | CT pri | CT sec | Setting | Characteristic | TMS | Time delay (s) "
    "| Breaker time (s) | Trip or alarm | Backup for",
    """
    KES | R1 | 67N | CT1 | 400 | 1 | 120 | DT | | 0.4 | 0.08 | trip |
    KES | R3 | 59N | NGT1 | | | 320 | DT | | 0.8 | 0.1 | trip |
    KES | R4 | 59N | NGT2 | | | 320 | DT | | 0.8 | 0.1 | trip |
    KES | R5 | 51N | SST1 | 2000 | 5 | 240 | SI | 0.1 | | 0.1 | trip |
    ARD | R1 | 67N | CT1 | 600 | 1 | 150 | DT | | 0.4 | 0.08 | trip |
    ARD | R2 | 59N | NGT1 | | | 900 | DT | | 0.8 | 0.1 | trip |
    HAR | R1 | 67N | CT3 | 1200 | 1 | 200 | DT | | 0.4 | 0.08 | trip |
    HAR | R3 | 51G | NER1 | 600 | 1 | 150 | DT | | 2.8 | 0.1 | trip | R5
    HAR | R4 | 51G | NER2 | 600 | 1 | 800 | DT | | 2.8 | 0.1 | trip | R6
    HAR | R5 | 50N | L331 | 600 | 1 | 120 | DT | | 0.3 | 0.1 | trip |
    HAR | R6 | 50N | L332 | 600 | 1 | 120 | DT | | 2.6 | 0.1 | trip |
    OSM | R1 | 67N | CT2 | 600 | 1 | 120 | DT | | 0.4 | 0.08 | trip |
    OSM | R3 | 51G | ET1 | 600 | 1 | 150 | DT | | 2.5 | 0.1 | trip | RL9
    UPW | R1 | 67N | CT2 | 400 | 1 | 100 | DT | | 0.4 | 0.08 | trip |
    UPW | R2 | 51G | ET1 | 600 | 1 | 150 | DT | | 20 | 0.1 | trip |
    UPW | R3 | 51G | NER1 | 600 | 1 | 150 | DT | | 20 | 0.1 | trip |
    GRE | R1 | 67N | CT2 | 400 | 1 | 100 | DT | | 0.4 | 0.08 | trip |
    GRE | R2 | 51G | NER1 | 600 | 1 | 150 | DT | | 2.5 | 0.1 | trip |
    """,
    notes=("Settings are primary amperes; for element 59N, primary volts.",),
)

MATS = Table(
    "Station | Ground mat | Area (m2) | Grid length (m) | Grid width (m) | Buried length (m) | Burial depth (m) "
    "| Number of rods | Rod length (m) | Mat conductor | Material | Soil (ohm m) | Measured resistance (ohm) "
    "| Date measured "
    "| Mesh spacing (m) | Gravel resistivity (ohm m) | Gravel depth (m) | Split factor | Shock duration (s)",
    """
    KES | M1 | 9600 | 120 | 80 | 2600 | 0.6 | 40 | 3 | 120 mm² | hard drawn copper | 180 | 0.42 | 2023-05-11 \
| 8 | 3000 | 0.1 | 0.6 | 0.5
    ARD | M1 | 8000 | 100 | 80 | 2200 | 0.6 | 36 | 3 | 120 mm² | hard drawn copper | 220 | 0.61 | 2022-09-02 \
| 8 | 3000 | 0.1 | 0.6 | 0.5
    HAR | M1 | 10800 | 120 | 90 | 2900 | 0.6 | 44 | 3 | 4/0 AWG | copper | 90 | 0.24 | 2023-06-20 | 8 | 3000 \
| 0.1 | 0.35 | 0.5
    THR | M1 | 12000 | 120 | 100 | 3300 | 0.6 | 48 | 3 | 4/0 AWG | copper | 140 | 0.31 | 2021-04-15 | 8 | 3000 \
| 0.1 | 0.3 | 0.5
    OSM | M1 | 7200 | 90 | 80 | 2050 | 0.6 | 30 | 3 | 4/0 AWG | copper | 110 | 0.35 | 2023-06-22 | 6 | 3000 \
| 0.1 | 0.6 | 0.5
    UPW | M1 | 6300 | 90 | 70 | 1800 | 0.6 | 28 | 3 | 4/0 AWG | copper | 260 | 0.95 | 2020-10-08 | 6 | | 0 | 0.9 | 0.5
    GRE | M1 | 3200 | 80 | 40 | 980 | 0.6 | 18 | 3 | 95 mm² | hard drawn copper | 75 | 0.38 | 2023-03-29 | 6 \
| 3000 | 0.1 | 0.8 | 0.5
    """,
)

BONDS = Table(
    "Station | Bond no | Item | Equipment type | Conductor size | Material | Number of straps | Joint type "
    "| Bonded to mat | Milliohms",
    """
    KES | B1 | GT1 | power transformer | 40 x 5 mm | copper | 2 | exothermic weld | yes | 0.6
    KES | B2 | GT2 | power transformer | 40 x 5 mm | copper | 2 | exothermic weld | yes | 0.7
    KES | B3 | NGT1 | neutral | 120 mm² | copper | 1 | crimped | yes | 0.9
    ARD | B1 | GT1 | power transformer | 40 x 5 mm | copper | 2 | exothermic weld | no | 0.8
    ARD | B2 | SA1 | surge arrester | 40 x 5 mm | copper | 1 | bolted | yes | 45
    HAR | B1 | T1 | power transformer | 40 x 5 mm | copper | 1 | exothermic weld | yes | 0.5
    HAR | B2 | NER1 | NER | 40 x 5 mm | copper | 1 | bolted | yes | 0.8
    HAR | B3 | NER2 | NER | 40 x 5 mm | copper | 1 | bolted | yes | 0.8
    THR | B1 | CB105 | circuit breaker | 4/0 AWG | copper | 2 | compression lug | yes | 0.7
    OSM | B1 | T1 | power transformer | 40 x 5 mm | copper | 2 | exothermic weld | yes | 0.0006
    OSM | B2 | T2 | power transformer | 40 x 5 mm | copper | 2 | exothermic weld | yes | 0.6
    OSM | B3 | ET1 | transformer | 40 x 5 mm | copper | 1 | exothermic weld | yes | 0.9
    UPW | B1 | T1 | power transformer | 40 x 5 mm | copper | 2 | exothermic weld | yes | 0.6
    UPW | B2 | NER1 | NER | 40 x 5 mm | copper | 1 | bolted | yes | 1.0
    GRE | B1 | T1 | power transformer | 40 x 5 mm | copper | 2 | exothermic weld | yes | 0.5
    """,
)

INSPECTIONS = Table(
    "Station | Report no | Asset | Inspection date | Inspected by | Inspection type | Result | Uom | Observation "
    "| Pass/fail",
    """
    KES | N-2301 | M1 | 2023-05-11 | H. Aldous | fall of potential | 0.42 | ohm | dry week | pass
    HAR | N-2502 | NER1 | 2025-02-11 | H. Aldous | NER resistance | 19.3 | ohm | ambient 4 degrees | pass
    HAR | N-2503 | NER2 | 2025-02-11 | H. Aldous | NER resistance | 22.6 | ohm | two elements discolored | pass
    GRE | N-2501 | NER1 | 2025-01-28 | H. Aldous | NER resistance | 6.41 | ohm | | pass
    OSM | N-0514 | M1 | 2005-09-14 | P. Wray | fall of potential | 0.20 | ohm | | pass
    OSM | N-2306 | M1 | 2023-06-22 | H. Aldous | fall of potential | 0.35 | ohm | | pass
    OSM | N-2307 | B3 | 2023-06-22 | H. Aldous | continuity test | | | weld cracked half through | fail
    THR | N-2102 | M1 | 2021-04-15 | P. Wray | fall of potential | 0.31 | ohm | | pass
    UPW | N-2007 | NER1 | 2020-10-08 | P. Wray | visual inspection | | | louvers painted | pass
    """,
)

SECONDARY_SHEETS = (
    Sheet("Arresters", (ARRESTERS,)),
    Sheet("Insulation", (INSULATION,), title=("Insulation of main equipment",)),
    Sheet("VTs and CTs", (INSTRUMENT_TRANSFORMERS,)),
    Sheet("Ground relays", (RELAYS,), title=("Ground-fault relay settings, issue 14",)),
    Sheet("Ground mats", (MATS,)),
    Sheet("Bonds", (BONDS,)),
    Sheet("Inspections", (INSPECTIONS,)),
)

SECONDARY_SEEDS = (
    Seed(
        "arresters/continuous-voltage",
        "HAR",
        "arrester",
        "SA3",
        "MCOV 17.5 kV; the highest line-to-ground voltage is 20.8 kV",
    ),
    Seed(
        "detection/reach",
        "HAR",
        "ground_relay",
        "R4",
        "pickup 800 A; a fault at its own bus sends 986 A through its neutral",
    ),
    Seed(
        "record/unresolved-reference", "OSM", "ground_relay", "R3", "said to back up relay RL9, which is not on record"
    ),
    Seed("bonding/connected-to-mat", "ARD", "bond", "B1", "tank of GT1 not connected to the mat"),
    Seed(
        "arresters/needless-rating",
        "UPW",
        "arrester",
        "SA1",
        "MCOV 125 kV, for an ungrounded system, in an effectively grounded one",
    ),
    Seed("bonding/continuity", "ARD", "bond", "B2", "45 mΩ; a few are usual"),
    Seed("bonding/single-strap", "HAR", "bond", "B1", "one strap for T1 where a ground fault draws 16 kA"),
    Seed("record/implausible", "OSM", "bond", "B1", "0.0006 typed, in ohms, under a heading in milliohms"),
    Seed(
        "detection/coordination-interval",
        "HAR",
        "ground_relay",
        "R4",
        "trips after 2.8 s; R6, which it backs up, after 2.6 s",
    ),
    Seed(
        "detection/stator-coverage",
        "ARD",
        "generator",
        "G1",
        "its 59N picks up at 900 V of 6.06 kV, 85 % of the stator",
    ),
    Seed(
        "detection/voltage-factor",
        "OSM",
        "instrument_transformer",
        "VT1",
        "voltage factor 1.5 where a ground fault puts 1.6 times its voltage on it",
    ),
    Seed("inspection/failed", "OSM", "bond", "B3", "weld found cracked in 2023, not repaired since"),
    Seed("inspection/overdue", "UPW", "neutral_device", "NER1", "last looked at in 2020"),
    Seed(
        "inspection/never-done",
        "UPW",
        "neutral_device",
        "NER1",
        "resistance never measured, unlike the resistors of HAR and GRE",
    ),
    Seed("mat/resistance-drift", "OSM", "ground_grid", "M1", "0.20 Ω in 2005, 0.35 Ω in 2023"),
    Seed("mat/touch-voltage", "UPW", "ground_grid", "M1", "no gravel, on soil of 260 Ωm"),
    Seed(
        "neutral-devices/measured-resistance",
        "HAR",
        "neutral_device",
        "NER2",
        "22.6 Ω measured, 19.1 Ω on the nameplate",
    ),
)
