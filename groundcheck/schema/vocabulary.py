"""Accepted words, each with the other spellings that registers use for it (lower case)."""

STATUS = {
    "in service": (
        "in-service",
        "inservice",
        "existing",
        "updated",
        "unchanged",
        "new",
        "active",
        "live",
        "energised",
        "energized",
        "operational",
        "service",
        "in use",
        "commissioned",
        "normal",
    ),
    "removed": (
        "decommissioned",
        "retired",
        "scrapped",
        "dismantled",
        "disconnected",
        "recovered",
        "gone",
        "out of use",
    ),
    "planned": ("proposed", "future", "design", "project", "under construction"),
    "spare": ("stock", "store", "stores", "strategic spare", "standby unit"),
}

# How a neutral or a system is grounded, as a person declares it.
GROUNDING = {
    "solid": (
        "solidly grounded",
        "solidly earthed",
        "solid earth",
        "direct",
        "direct earth",
        "directly earthed",
        "direct earthing",
        "solid grounding",
        "solid earthing",
        "sol",
        "earthed",
        "grounded",
        "dead earthed",
        "solidly",
        "direct to mat",
    ),
    "effective": ("effectively grounded", "effectively earthed", "effective earthing"),
    "low_resistance": ("low resistance", "lrg", "low-resistance", "low resistance grounded", "low resistance earthed"),
    "high_resistance": (
        "high resistance",
        "hrg",
        "high-resistance",
        "high resistance grounded",
        "high resistance earthed",
    ),
    "resistance": (
        "resistor",
        "resistance grounded",
        "resistance earthed",
        "ner",
        "ngr",
        "neutral resistor",
        "earthing resistor",
        "liquid resistor",
        "impedance",
        "impedance earthed",
    ),
    "reactance": ("reactor", "reactance grounded", "reactance earthed", "earthing reactor", "neutral reactor", "ngx"),
    "resonant": (
        "arc suppression coil",
        "arc-suppression coil",
        "asc",
        "petersen coil",
        "petersen",
        "compensated",
        "resonant earthed",
        "resonant grounded",
        "resonant earthing",
        "peterson coil",
        "gfn",
        "coil",
    ),
    "ungrounded": (
        "unearthed",
        "isolated",
        "isolated neutral",
        "insulated neutral",
        "unearthed neutral",
        "floating",
        "it",
        "none",
        "not earthed",
        "not grounded",
        "ungrounded delta",
        "insulated",
        "free neutral",
    ),
}

# How one neutral is grounded, as a transformer register says it in words.
NEUTRAL_TREATMENT = {
    "solid": GROUNDING["solid"] + ("effective", "effectively earthed"),
    "resistor": GROUNDING["resistance"] + GROUNDING["low_resistance"] + GROUNDING["high_resistance"] + ("resistance",),
    "reactor": GROUNDING["reactance"] + ("reactance",),
    "arc_suppression_coil": GROUNDING["resonant"] + ("resonant",),
    "surge_arrester": ("arrester", "surge arrester only", "neutral arrester", "surge diverter"),
    "open": (
        "unearthed",
        "isolated",
        "isolated neutral",
        "insulated",
        "floating",
        "not earthed",
        "not grounded",
        "ungrounded",
        "unearthed neutral",
        "not connected",
    ),
    "grounding_transformer": (
        "earthing transformer",
        "grounding transformer",
        "et",
        "zigzag",
        "zig-zag",
        "zig zag",
        "neutral earthing transformer",
        "net",
    ),
    "grounding_transformer_resistor": (
        "earthing transformer + resistor",
        "grounding transformer + resistor",
        "et + ner",
        "net + ner",
        "et+ner",
        "zigzag + resistor",
        "earthing transformer and resistor",
    ),
    "grounding_transformer_reactor": ("earthing transformer + reactor", "grounding transformer + reactor"),
    "grounding_transformer_coil": (
        "earthing transformer + arc suppression coil",
        "grounding transformer + arc suppression coil",
        "et + asc",
    ),
    "shared_resistor": ("shared resistor", "common resistor", "shared ner"),
    "shared_reactor": ("shared reactor", "common reactor"),
    "shared_coil": ("shared arc suppression coil", "shared asc", "common arc suppression coil"),
    "shared_coil_resistor": ("shared arc suppression coil + resistor", "shared asc + resistor"),
    "grounding_transformer_shared_resistor": ("earthing transformer + shared resistor",),
    "grounding_transformer_shared_coil": ("earthing transformer + shared arc suppression coil",),
}

NEUTRAL_DEVICE_KINDS = {
    "solid": ("solid link", "link", "direct", "solid connection", "direct link", "copper link", "solidly earthed"),
    "resistor": (
        "ner",
        "ngr",
        "neutral earthing resistor",
        "neutral grounding resistor",
        "earthing resistor",
        "grounding resistor",
        "liquid resistor",
        "ler",
        "resistance",
        "metallic resistor",
        "ner (liquid)",
        "grid resistor",
        "hrg resistor",
    ),
    "reactor": (
        "ngx",
        "neutral reactor",
        "earthing reactor",
        "neutral earthing reactor",
        "neutral grounding reactor",
        "reactance",
        "current limiting reactor",
    ),
    "arc_suppression_coil": (
        "asc",
        "petersen coil",
        "petersen",
        "peterson coil",
        "arc suppression coil",
        "arc-suppression coil",
        "suppression coil",
        "coil",
        "plunger coil",
        "tuned coil",
    ),
    "distribution_transformer": (
        "distribution transformer",
        "ngt",
        "neutral grounding transformer",
        "neutral earthing transformer with resistor",
        "dist. transformer",
        "earthing transformer with secondary resistor",
        "loaded transformer",
    ),
    "surge_arrester": ("arrester", "surge arrester", "surge diverter", "arrester only", "neutral arrester"),
    "open": ("nothing", "not connected", "isolated", "unearthed", "floating", "open link", "link open", "ungrounded"),
}

WINDING = {
    "hv": ("high voltage", "primary", "h", "hv side", "high", "hv winding"),
    "lv": ("low voltage", "secondary", "x", "lv side", "mv", "low", "lv winding"),
    "tv": ("tertiary", "t", "tertiary winding", "y", "stabilising"),
}

CORE_FORM = {
    "three_limb": ("3 limb", "three limb", "three-limb", "3-limb", "3 leg", "three leg", "core 3", "core type"),
    "five_limb": ("5 limb", "five limb", "five-limb", "5-limb", "5 leg", "five leg"),
    "shell": ("shell type", "shell-type"),
    "single_phase_bank": (
        "bank",
        "single phase bank",
        "3x1ph",
        "3 x 1ph",
        "single-phase units",
        "bank of single phase",
    ),
}

GENERATOR_WINDING = {"wye": ("star", "y", "yn", "wye grounded"), "delta": ("d", "mesh")}

LINE_CONSTRUCTION = {
    "overhead": ("oh", "ohl", "overhead line", "line", "o/h", "aerial", "open wire", "pole line", "tower line"),
    "cable": ("ug", "ugc", "underground", "underground cable", "u/g", "ug cable", "buried", "xlpe", "pilc"),
    "aerial_cable": ("abc", "aerial bundled", "aerial bundled cable", "spacer cable", "covered conductor cable"),
}

NEUTRAL_WIRE = {
    "none": ("3 wire", "three wire", "three-wire", "3-wire", "no", "3w"),
    "unigrounded": ("4 wire unigrounded", "uni-grounded", "single grounded"),
    "multigrounded": (
        "4 wire",
        "four wire",
        "four-wire",
        "4-wire",
        "multi-grounded",
        "pme",
        "men",
        "4w",
        "multiple earthed",
    ),
}

SWITCH_STATE = {
    "closed": ("c", "on", "nc", "n/c", "normally closed", "shut", "in", "made"),
    "open": ("o", "off", "no", "n/o", "normally open", "nop", "out", "open point"),
}

GROUNDING_TRANSFORMER_CONNECTION = {
    "zigzag": ("zig-zag", "zig zag", "zn", "z", "interstar", "interconnected star", "zn0"),
    "wye_delta": ("star-delta", "star/delta", "ynd", "yd", "wye-delta", "ynd1", "ynd11", "star delta"),
}

ARRESTER_POSITION = {
    "phase": ("line", "phase to ground", "ph", "phase-earth", "phase to earth", "r y b"),
    "neutral": ("n", "neutral to ground", "neutral point", "star point"),
}

INSULATION_KINDS = {
    "line_insulator": ("insulator", "line insulator", "disc", "string", "pin insulator", "tension set"),
    "station_post": ("post", "post insulator", "station post", "busbar support", "support insulator"),
    "bushing": ("bushings", "transformer bushing", "wall bushing"),
    "cable": ("cable", "power cable", "xlpe cable", "feeder cable", "pilc cable"),
    "switchgear": ("switchboard", "metalclad", "metal-clad", "gis", "swgr", "panel", "breaker", "circuit breaker"),
    "winding": ("transformer winding", "motor winding", "machine winding", "stator"),
    "instrument_transformer": ("vt", "ct", "pt", "voltage transformer", "current transformer", "it"),
}

INSTRUMENT_TRANSFORMER_KINDS = {
    "ct": ("current transformer", "c.t.", "current", "core balance ct", "cbct", "ring ct"),
    "vt": ("voltage transformer", "pt", "potential transformer", "v.t.", "voltage", "vts", "cvt"),
}

RELAY_CURVES = {
    "definite_time": ("dt", "definite", "definite time", "dtl", "def time", "dmt", "inst", "instantaneous"),
    "iec_standard_inverse": (
        "si",
        "iec si",
        "standard inverse",
        "normal inverse",
        "ni",
        "iec a",
        "idmt",
        "idmt si",
        "idmtl",
        "3/10",
    ),
    "iec_very_inverse": ("vi", "iec vi", "very inverse", "iec b", "idmt vi"),
    "iec_extremely_inverse": ("ei", "iec ei", "extremely inverse", "iec c", "idmt ei"),
    "iec_long_time_inverse": ("lti", "long time inverse", "iec lti", "long inverse"),
    "ieee_moderately_inverse": ("ieee mi", "moderately inverse", "us mi", "iec d", "u1"),
    "ieee_very_inverse": ("ieee vi", "us vi", "iec e"),
    "ieee_extremely_inverse": ("ieee ei", "us ei", "iec f"),
}

RELAY_ACTION = {
    "trip": ("trips", "tripping", "t", "trip breaker"),
    "alarm": ("alarm only", "alarms", "a", "indication", "annunciation"),
}

DETECTION_METHOD = {
    "broken_delta": ("broken delta", "open delta", "open-delta", "residual vt", "ndvt", "5 limb vt", "broken-delta"),
    "lamps": ("lamp", "ground lamps", "earth lamps", "indicating lamps", "earth fault lamps"),
    "insulation_monitor": ("imd", "insulation monitoring", "insulation monitoring device", "insulation monitor"),
}

CONDUCTOR_MATERIAL = {
    "copper_annealed": ("cu", "copper", "soft copper", "annealed copper", "soft drawn copper"),
    "copper_hard_drawn": ("hard drawn copper", "hd copper", "hdc", "hard-drawn copper", "hdbc"),
    "copper_clad_steel_40": ("copper clad steel", "ccs", "ccs 40", "copper-clad steel"),
    "copper_clad_steel_30": ("ccs 30",),
    "copper_clad_steel_rod": ("copper bonded rod", "copper clad rod"),
    "aluminum": ("al", "aluminium", "ec aluminium", "ec aluminum"),
    "aluminum_6201": ("aaac", "6201"),
    "aluminum_clad_steel": ("acs", "aluminium clad steel", "alumoweld"),
    "steel": ("mild steel", "ms", "ms flat", "steel 1020"),
    "steel_zinc_coated": ("gi", "galvanised steel", "galvanized steel", "galvanized iron", "gs", "gi flat", "galv"),
    "stainless_304": ("ss", "stainless", "stainless steel", "ss304"),
}

ROD_POSITIONS = {
    "perimeter": ("edge", "corners", "periphery", "boundary", "perimeter and corners", "along the perimeter"),
    "inside": ("interior", "centre", "center", "middle", "within grid"),
}

JOINT_KINDS = {
    "exothermic": ("cad", "thermit", "exothermic weld", "welded", "weld", "thermite"),
    "brazed": ("braze", "silver brazed"),
    "compression": ("crimp", "crimped", "compression lug", "lug"),
    "bolted": ("bolt", "clamp", "clamped", "bolted lug"),
}

EQUIPMENT_KINDS = {
    "transformer": ("trf", "tx", "power transformer", "tank"),
    "switchgear": ("swgr", "switchboard", "breaker", "circuit breaker", "cb", "panel"),
    "structure": ("gantry", "steelwork", "support", "frame", "tower", "steel structure"),
    "fence": ("gate", "fence post", "fencing"),
    "neutral_device": ("ner", "resistor", "neutral", "reactor", "coil"),
    "arrester": ("surge arrester", "surge diverter"),
    "instrument_transformer": ("ct", "vt", "pt", "cvt"),
    "generator": ("gen", "alternator", "machine"),
    "other": ("misc", "aux"),
}

INSPECTION_OUTCOMES = {
    "passed": ("pass", "ok", "satisfactory", "good", "accepted", "sat", "no defect", "in order", "healthy"),
    "failed": ("fail", "not ok", "unsatisfactory", "defect", "defective", "rejected", "unsat", "not in order", "poor"),
}

INSPECTION_KINDS = {
    "grid_resistance": ("earth resistance", "mat resistance", "grid resistance", "fall of potential", "earth test"),
    "continuity": ("bond continuity", "continuity test", "ductor", "micro-ohm"),
    "resistor_measurement": ("ner resistance", "resistor test", "resistance measurement"),
    "visual": ("visual inspection", "walk-round", "inspection", "patrol"),
    "relay_test": ("protection test", "secondary injection", "primary injection", "relay calibration"),
}
