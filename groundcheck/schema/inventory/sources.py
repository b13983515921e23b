"""What feeds the network: infeeds and generators."""

import pandas as pd

from groundcheck.schema.columns import choice, headings, key, quantity, reference, yes_no
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import GENERATOR_WINDING


class Infeed(InventoryTable):
    """A network equivalent: what lies behind the fleet's own records."""

    substation: str = key("Station it feeds.", *STATION, example="ASH")
    infeed: str = key(
        "Its tag in that station.",
        *headings(
            "source; grid supply; supply; incomer; infeed name; grid; infeed id; infeed no; source id",
            "source name; source no; incomer no; supply ref; grid infeed; supply point; bulk supply",
            "utility source; infeed ref; gsp",
        ),
        example="Grid 1",
    )
    bus: str = reference(
        "Bus it feeds.",
        ("bus",),
        *headings(
            "busbar; at bus; connected bus; connection point; poc; point of supply; supply bus; bus name",
            "connected at; point of connection",
        ),
        required=True,
        example="B33",
    )
    fault_level_3ph: float = quantity(
        "Three-phase fault level, maximum condition.",
        "MVA",
        *headings(
            "fault level; short circuit mva; fault mva; sc level; three phase fault level; ssc; 3ph fault level",
            "3-phase fault level; max fault level; maximum fault level; fault level max; short circuit level",
            "sc mva; scl; 3 phase mva; 3ph mva; short circuit power; sk",
        ),
        gt=0,
        example="750",
    )
    fault_current_3ph: float = quantity(
        "Three-phase fault current, maximum condition.",
        "kA",
        *headings(
            "fault current; 3ph ka; short circuit current; isc; ik3; three phase fault current; 3ph fault current",
            "3-phase fault current; max fault current; maximum fault current; sc current; 3 phase ka; ik",
            "prospective fault current; fault ka; ik''; short circuit ka",
        ),
        gt=0,
        example="13.1",
    )
    x_over_r: float = quantity(
        "Its X/R.", None, *headings("x/r; xr ratio; x r; x/r ratio; x to r; x r ratio; xr"), gt=0, example="12"
    )
    fault_current_1ph: float = quantity(
        "Line-to-ground fault current, maximum condition.",
        "kA",
        *headings(
            "1ph ka; earth fault current; ik1; l-g ka; single phase fault current; e/f current",
            "line to ground current; 1ph fault current; single phase fault level ka; slg fault current; slg ka",
            "e/f ka; ground fault current; line to ground ka; 1-phase fault current; phase to earth ka; slgf",
            "lg fault current",
        ),
        ge=0,
        example="9.8",
    )
    fault_level_3ph_min: float = quantity(
        "Three-phase fault level, minimum condition.",
        "MVA",
        *headings(
            "min fault level; minimum fault level; fault level min; min sc level; min 3ph mva",
            "minimum 3ph fault level; min scl",
        ),
        gt=0,
        example="500",
    )
    fault_current_3ph_min: float = quantity(
        "Three-phase fault current, minimum condition.",
        "kA",
        *headings(
            "min fault current; minimum fault current; min 3ph ka; minimum 3ph fault current; min sc current", "min ik"
        ),
        gt=0,
        example="8.7",
    )
    x_over_r_min: float = quantity(
        "Its X/R, minimum condition.", None, "x/r min", "min x/r", "x/r ratio min", "minimum x/r", gt=0, example="10"
    )
    fault_current_1ph_min: float = quantity(
        "Line-to-ground fault current, minimum condition.",
        "kA",
        *headings(
            "min earth fault current; minimum earth fault current; min 1ph ka; minimum 1ph fault current",
            "min ground fault current; min slg ka",
        ),
        ge=0,
        example="6.5",
    )
    r0_over_x0: float = quantity(
        "R0/X0 of the network behind it; blank: the ratio of the positive sequence.",
        None,
        *headings("r0/x0; zero sequence r/x; r/x zero sequence; zero seq r/x; r0 x0 ratio; r0 to x0"),
        ge=0,
        example="0.2",
    )
    grounded: pd.BooleanDtype = yes_no(
        "Whether the network behind it is grounded, so that it feeds ground faults.",
        *headings(
            "earthed; source earthed; neutral earthed; upstream earthed; source grounded; upstream grounded",
            "neutral grounded; source neutral earthed",
        ),
    )


class Generator(InventoryTable):
    """A synchronous machine."""

    substation: str = key("Station of the machine.", *STATION, example="ASH")
    generator: str = key(
        "Its tag in that station.",
        *headings(
            "gen; machine; unit; alternator; set; generator name; generator id; generator no; gen id; gen no",
            "gen ref; generator tag; machine id; machine no; genset; unit no; unit id; generating unit",
            "generator ref; alternator no",
        ),
        example="G1",
    )
    bus: str = reference(
        "Bus it is connected to.",
        ("bus",),
        *headings("busbar; terminal bus; generator bus; connected bus; bus name; at bus; connected to; machine bus"),
        required=True,
    )
    rated_power: float = quantity(
        "Rated apparent power.",
        "MVA",
        *headings(
            "mva; rating; capacity; size; power; rated output; output; nameplate rating; mva rating; kva rating",
            "gen rating; apparent power; s rated",
        ),
        required=True,
        gt=0,
        example="12.5",
    )
    rated_voltage: float = quantity(
        "Rated line-to-line voltage.",
        "kV",
        *headings(
            "kv; voltage; terminal voltage; rated kv; generator voltage; stator voltage; nominal voltage",
            "rated terminal voltage; gen kv; kv rating",
        ),
        required=True,
        gt=0,
        le=60,
        example="11",
    )
    power_factor: float = quantity(
        "Rated power factor.",
        None,
        *headings(
            "pf; cos phi; rated power factor; rated pf; cosphi; cos ph; power factor rated; nameplate pf",
            "cos phi rated; nominal power factor",
        ),
        gt=0,
        le=1,
        example="0.85",
    )
    voltage_regulation_pg: float = quantity(
        "By how much its voltage may be regulated above the rated one for long.",
        "%",
        *headings(
            "pg; voltage regulation; voltage regulation range; p g; avr range; terminal voltage range",
            "generator voltage range; voltage range; regulation range",
        ),
        ge=0,
        le=20,
        example="5",
    )
    xd_subtransient: float = quantity(
        "Subtransient reactance, saturated.",
        "pu",
        *headings(
            "xd''; x''d; xd sub; subtransient reactance; x d; sub-transient reactance",
            'xd" sat; x"d; xd"',
            "xd'' sat; direct axis subtransient reactance; saturated subtransient reactance; xd'' pu",
        ),
        gt=0,
        le=2,
        example="0.18",
    )
    x2: float = quantity(
        "Negative-sequence reactance.",
        "pu",
        *headings("negative sequence reactance; neg seq x; neg seq reactance; x neg; xn"),
        gt=0,
        le=2,
        example="0.2",
    )
    x0: float = quantity(
        "Zero-sequence reactance.",
        "pu",
        "zero sequence reactance",
        "zero seq x",
        "zero seq reactance",
        "x zero",
        gt=0,
        le=2,
        example="0.08",
    )
    r: float = quantity(
        "Armature resistance.",
        "pu",
        *headings("ra; resistance; stator resistance; armature resistance; r stator"),
        ge=0,
        le=1,
        example="0.004",
    )
    winding: str = choice(
        "How the stator is connected.",
        GENERATOR_WINDING,
        *headings("connection; stator connection; stator winding; winding connection; star/delta; wye/delta"),
    )
    capacitance_to_ground: float = quantity(
        "Capacitance to ground of everything at generator voltage, per phase.",
        "uF",
        *headings(
            "c to ground; capacitance; stator capacitance; capacitance to earth; stator capacitance to earth",
            "capacitance per phase; c0; ground capacitance",
        ),
        ge=0,
        example="0.25",
    )
