"""Power transformers."""

import pandas as pd

from groundcheck.schema.columns import choice, headings, key, quantity, reference, vector_group, yes_no
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import CORE_FORM, NEUTRAL_TREATMENT


class Transformer(InventoryTable):
    """A power transformer of two or three windings, or an auto-transformer."""

    substation: str = key("Station of the transformer.", *STATION, example="ASH")
    transformer: str = key(
        "Its tag in that station.",
        *headings(
            "tx; trf; transformer name; transformer no; txf; trafo; unit; transformer id; tx no; tx id; tx ref",
            "tx tag; tx name; transformer tag; transformer ref; transformer number; trf no; trf id; xfmr; xfmr no",
            "xfmr id; trafo no; power transformer; unit no; transformer code; tf no; tr no; xfmr name; bank",
        ),
        example="T1",
    )
    hv_bus: str = reference(
        "Bus at the HV side.",
        ("bus",),
        *headings(
            "hv busbar; primary bus; from bus; node 1; hv node; bus hv; hv bus name; hv bus no; primary busbar",
            "hv side bus; from busbar; from node; hv connected bus; bus 1; high side bus; hv switchboard; hv board",
        ),
        required=True,
        example="B33",
    )
    lv_bus: str = reference(
        "Bus at the LV side.",
        ("bus",),
        *headings(
            "lv busbar; secondary bus; to bus; node 2; lv node; bus lv; lv bus name; lv bus no; secondary busbar",
            "lv side bus; to busbar; to node; lv connected bus; bus 2; low side bus; lv switchboard; lv board",
        ),
        required=True,
    )
    tv_bus: str = reference(
        "Bus at the tertiary, if it is brought out.",
        ("bus",),
        *headings("tertiary bus; node 3; tv busbar; tertiary busbar; tv node; tertiary node; bus 3; tv side bus"),
        example="B6",
    )
    rated_power: float = quantity(
        "Rated power of the HV-LV pair.",
        "MVA",
        *headings(
            "mva; rating; nominal rating; capacity; size; power; mva rating; rated mva; nameplate mva",
            "name plate rating; nameplate rating; transformer rating; rated capacity; onan rating; onaf rating",
            "kva rating; max mva; s rated; sn",
        ),
        required=True,
        gt=0,
        le=2000,
        example="20",
    )
    hv_voltage: float = quantity(
        "Rated HV line-to-line voltage.",
        "kV",
        *headings(
            "hv; primary voltage; hv kv; operating voltage 1; voltage hv; primary kv; rated hv; hv rated voltage",
            "hv rating kv; primary rated voltage; hv nominal voltage; high voltage; hv winding voltage; high side kv",
            "kv hv; pri kv; primary volts; hv volts; rated primary voltage; hv side voltage; high side voltage; un hv",
        ),
        required=True,
        gt=0,
        le=1200,
        example="33",
    )
    lv_voltage: float = quantity(
        "Rated LV line-to-line voltage.",
        "kV",
        *headings(
            "lv; secondary voltage; lv kv; operating voltage 2; voltage lv; secondary kv; rated lv",
            "lv rated voltage; lv rating kv; secondary rated voltage; lv nominal voltage; low voltage",
            "lv winding voltage; low side kv; kv lv; sec kv; secondary volts; lv volts; rated secondary voltage",
            "lv side voltage; low side voltage; un lv",
        ),
        required=True,
        gt=0,
        le=1200,
        example="11",
    )
    tv_voltage: float = quantity(
        "Rated tertiary line-to-line voltage.",
        "kV",
        *headings(
            "tv; tertiary voltage; tertiary kv; operating voltage 3; tv kv; rated tv; tv rated voltage",
            "tertiary rated voltage; kv tv; tertiary winding voltage; voltage tv; un tv",
        ),
        gt=0,
        le=1200,
        example="6.6",
    )
    vector_group: str = vector_group(
        "Vector group, IEC 60076-1.",
        *headings(
            "vg; vect grp; connection; winding connection; vector; connections; vector grp; vector grouping",
            "vec grp; vec group; winding group; winding configuration; connection group; connection symbol",
            "winding arrangement; vectorgroup; vg symbol; phase displacement group",
        ),
        required=True,
    )
    impedance: float = quantity(
        "HV-LV impedance on own rating.",
        "%",
        *headings(
            "z; z%; impedance voltage; uk; percent impedance; impedance hv-lv; %z; pos seq z; zps; % impedance",
            "impedance %; percentage impedance; %imp; z percent; leakage impedance; short circuit impedance",
            "nameplate impedance; positive sequence impedance; ukr; uk%; vk; imp %; tx impedance; z1; z1 %",
        ),
        gt=0,
        le=60,
        example="10",
    )
    hv_tv_impedance: float = quantity(
        "HV-TV impedance on own rating.",
        "%",
        *headings("z hv-tv; impedance hv-tv; hv-tertiary impedance; z ht; zht; hv/tv impedance; z hv/tv"),
        "z primary-tertiary",
        gt=0,
        le=200,
        example="18",
    )
    lv_tv_impedance: float = quantity(
        "LV-TV impedance on own rating.",
        "%",
        *headings("z lv-tv; impedance lv-tv; lv-tertiary impedance; z lt; zlt; lv/tv impedance; z lv/tv"),
        "z secondary-tertiary",
        gt=0,
        le=200,
        example="7",
    )
    tv_power: float = quantity(
        "Rated power of the tertiary.",
        "MVA",
        *headings("tertiary mva; tv mva; tv rating; tertiary rating; tertiary power; tertiary rated mva; rated tv mva"),
        gt=0,
        le=2000,
        example="6.7",
    )
    x_over_r: float = quantity(
        "X/R of the leakage impedance.",
        None,
        *headings("x/r; xr ratio; x r; x/r ratio; x to r; x r ratio; xr"),
        gt=0,
        example="20",
    )
    z0: float = quantity(
        "Zero-sequence impedance on own rating.",
        "%",
        *headings(
            "zero sequence impedance; z0%; zero seq z; z zero; zero sequence z; z0 %",
            "zero phase sequence impedance; zps impedance; z0 percent",
        ),
        gt=0,
        le=400,
        example="9",
    )
    z0_hv_tv: float = quantity(
        "Zero-sequence impedance between HV and TV, on the tertiary's rating; blank: in the ratio of z0 to impedance.",
        "%",
        *headings("z0 hv-tv; hv-tv z0; z0 ht; zero sequence impedance hv-tv; z0 hv/tv; zero seq z hv-tv; z0 h-t"),
        gt=0,
        le=400,
        example="17",
    )
    z0_lv_tv: float = quantity(
        "Zero-sequence impedance between LV and TV, on the tertiary's rating; blank: in the ratio of z0 to impedance.",
        "%",
        *headings("z0 lv-tv; lv-tv z0; z0 lt; zero sequence impedance lv-tv; z0 lv/tv; zero seq z lv-tv; z0 l-t"),
        gt=0,
        le=400,
        example="6.5",
    )
    z0_x_over_r: float = quantity(
        "X/R of the zero-sequence impedances; blank: that of the leakage impedance.",
        None,
        *headings("x0/r0; z0 x/r; x/r zero sequence; zero sequence x/r; x0 r0 ratio; x/r of z0"),
        gt=0,
        example="18",
    )
    tap_changer: pd.BooleanDtype = yes_no(
        "Whether it has a tap changer that works on load; asked of a generator's own transformer.",
        *headings("oltc; on load tap changer; on-load tap changer; ltc; load tap changer; oltc fitted; oltc installed"),
    )
    core_form: str = choice(
        "Core.",
        CORE_FORM,
        *headings("core; core type; construction; core construction; limbs; no of limbs; number of limbs"),
    )
    magnetizing_z0: float = quantity(
        "Zero-sequence magnetizing impedance of a three-limb core, on own rating.",
        "%",
        *headings("zero sequence magnetizing impedance; magnetising z0; zero sequence magnetising impedance; zm0; z0m"),
        gt=0,
        example="60",
    )
    graded_neutral: pd.BooleanDtype = yes_no(
        "Whether the neutral end of the HV winding has reduced insulation.",
        *headings(
            "graded insulation; reduced neutral insulation; non-uniform insulation; graded; neutral graded",
            "graded neutral insulation; reduced insulation neutral",
        ),
    )
    neutral_bil: float = quantity(
        "Lightning impulse withstand of the neutral end.",
        "kV",
        *headings(
            "neutral bil kv; neutral insulation level; bil neutral; neutral liwl; bil of neutral; hv neutral bil"
        ),
        "neutral impulse level",
        gt=0,
        example="95",
    )
    hv_neutral: str = choice(
        "How the HV neutral is grounded, in words.",
        NEUTRAL_TREATMENT,
        *headings(
            "hv neutral earthing; hv earthing; hv neutral grounding; hv star point; primary neutral",
            "hv neutral treatment; hv neutral connection; primary earthing; primary grounding; hv grounding",
            "hv star point earthing; hv neutral point",
        ),
    )
    lv_neutral: str = choice(
        "How the LV neutral is grounded, in words.",
        NEUTRAL_TREATMENT,
        *headings(
            "lv neutral earthing; lv earthing; lv neutral grounding; lv star point; method of earthing",
            "neutral earthing; earthing; secondary neutral; grounding; neutral grounding; method of grounding",
            "earthing method; lv neutral treatment; lv neutral connection; secondary earthing",
            "secondary grounding; lv grounding; lv star point earthing; neutral treatment; earthing arrangement",
            "lv neutral point; neutral grounding method; neutral earthing method; type of earthing",
        ),
        example="resistor",
    )
    tv_neutral: str = choice(
        "How the tertiary's neutral is grounded, in words.",
        NEUTRAL_TREATMENT,
        *headings("tv neutral earthing; tertiary neutral; tv earthing; tertiary earthing; tv grounding"),
        "tertiary grounding",
        example="open",
    )
