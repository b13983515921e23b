"""What registers that hold all kinds of equipment in one table call each kind, and what the word says of the asset."""

from functools import cache
from typing import NamedTuple

from groundcheck.schema.inventory.registry import INVENTORY_TABLES


class EquipmentKind(NamedTuple):
    """The canonical table of a kind of equipment, and the fields that its name settles."""

    table: str
    fields: tuple[tuple[str, str], ...] = ()


# Headings of the column that names the kind.
KIND_HEADINGS = (
    *("asset type", "equipment type", "type of equipment", "type of asset", "plant type", "type of plant"),
    *("object type", "device type", "asset class", "equipment class", "plant class", "object class"),
    *("asset category", "equipment category", "category", "asset kind", "equipment kind", "kind of equipment"),
    *("type", "kind", "class", "asset", "equipment", "plant", "apparatus", "plant item", "asset group", "equip type"),
    *("equipment group", "equipment description", "asset description", "description", "item type", "unit type"),
)

# Headings of the tag of an asset of any kind, the plainest first.
TAG_HEADINGS = (
    *("asset id", "asset no", "asset number", "asset tag", "asset ref", "asset reference", "asset code"),
    *("equipment id", "equipment no", "equipment number", "equipment tag", "equipment ref", "equipment code"),
    *("plant id", "plant no", "plant number", "plant ref", "plant code", "functional location", "equip id", "equip no"),
    *("device id", "device no", "device tag", "item id", "item code", "tag no", "tag number", "tag"),
    *("designation", "asset name", "equipment name", "plant name", "operational name", "asset", "equipment", "plant"),
    *("device", "item", "id", "ref", "code", "name"),
)

# Of these, the headings that can be nothing but a tag, also in a table about one kind of asset.
PLAIN_TAG_HEADINGS = frozenset(
    heading
    for heading in TAG_HEADINGS
    if heading not in ("asset", "equipment", "plant", "device", "item", "code", "name", "ref")
    and not heading.endswith(" name")
)

_RESISTOR = EquipmentKind("neutral_device", (("kind", "resistor"),))
_REACTOR = EquipmentKind("neutral_device", (("kind", "reactor"),))
_COIL = EquipmentKind("neutral_device", (("kind", "arc_suppression_coil"),))
_LINK = EquipmentKind("neutral_device", (("kind", "solid"),))
_ZIGZAG = EquipmentKind("grounding_transformer", (("connection", "zigzag"),))
_CT = EquipmentKind("instrument_transformer", (("kind", "ct"),))
_VT = EquipmentKind("instrument_transformer", (("kind", "vt"),))

# Words of the trade, in lower case. Plurals are understood.
_WORDS: dict[EquipmentKind, tuple[str, ...]] = {
    EquipmentKind("substation"): ("substation", "switching station", "s/s"),
    EquipmentKind("bus"): ("bus", "busbar", "bus bar", "bus section", "busbar section", "switchboard busbar"),
    EquipmentKind("infeed"): ("infeed", "grid supply", "grid infeed", "supply point", "bulk supply point", "gsp"),
    EquipmentKind("generator"): ("generator", "gen", "alternator", "synchronous generator", "genset", "generating set"),
    EquipmentKind("transformer"): (
        *("transformer", "power transformer", "power tx", "tx", "trf", "xfmr", "trafo", "main transformer"),
        *("grid transformer", "primary transformer", "auto-transformer", "autotransformer", "auto transformer"),
        *("step-up transformer", "step-down transformer", "generator transformer", "gsu", "power xfmr", "gt"),
        *("distribution transformer", "two-winding transformer", "three-winding transformer", "station transformer"),
    ),
    EquipmentKind("line"): (
        *("line", "overhead line", "ohl", "oh line", "feeder", "cable", "power cable", "underground cable", "circuit"),
        *("transmission line", "cable circuit", "line circuit", "ug cable"),
    ),
    EquipmentKind("switch"): (
        *("switch", "circuit breaker", "breaker", "cb", "bus coupler", "coupler", "bus section breaker"),
        *("bus section switch", "bus tie", "bus tie breaker"),
    ),
    _RESISTOR: (
        *("ner", "ngr", "neutral earthing resistor", "neutral grounding resistor", "neutral resistor", "ler"),
        *("earthing resistor", "grounding resistor", "liquid earthing resistor", "liquid resistor"),
    ),
    _REACTOR: (
        *("neutral reactor", "neutral earthing reactor", "neutral grounding reactor", "earthing reactor"),
        *("grounding reactor", "ngx", "neutral grounding inductor"),
    ),
    _COIL: (
        "petersen coil",
        "peterson coil",
        "arc suppression coil",
        "arc-suppression coil",
        "asc",
        "suppression coil",
    ),
    _LINK: ("solid link", "neutral link", "neutral earth link", "neutral grounding link", "earthing link"),
    EquipmentKind("neutral_device"): ("neutral device", "neutral equipment", "neutral earthing device"),
    _ZIGZAG: (
        *("nex", "zigzag", "zig-zag", "zig zag", "zigzag transformer", "zig-zag transformer", "nex/zig-zag"),
        *("zig zag transformer", "zigzag earthing transformer", "zigzag grounding transformer", "nex/zigzag"),
        *("zig-zag earthing transformer", "zig-zag grounding transformer", "interstar transformer"),
    ),
    EquipmentKind("grounding_transformer"): (
        *("earthing transformer", "grounding transformer", "earth transformer", "earthing tx", "earthing trf", "et"),
        *("neutral earthing transformer", "neutral grounding transformer", "grounding bank", "net", "aux/earthing"),
        *("earthing/auxiliary transformer", "earthing auxiliary transformer", "eat"),
    ),
    EquipmentKind("arrester"): (
        *("arrester", "surge arrester", "surge arrestor", "lightning arrester", "lightning arrestor", "surge diverter"),
        *("sa", "la", "mosa", "moa", "surge protection", "arrestor"),
    ),
    EquipmentKind("insulation"): ("insulation", "insulator", "bushing", "post insulator", "station post insulator"),
    _CT: ("ct", "current transformer", "neutral ct", "cbct", "core balance ct", "current trf", "residual ct"),
    _VT: ("vt", "pt", "voltage transformer", "potential transformer", "cvt", "capacitor voltage transformer", "ndvt"),
    EquipmentKind("instrument_transformer"): ("instrument transformer", "ct/vt", "combined ct/vt", "it"),
    EquipmentKind("secondary_circuit"): ("secondary circuit", "ct circuit", "vt circuit", "ct secondary"),
    EquipmentKind("ground_relay"): (
        *("earth fault relay", "ground fault relay", "ground relay", "e/f relay", "earth-fault relay", "ef relay"),
        *("ground overcurrent relay", "sensitive earth fault relay", "sef relay", "neutral relay", "protection relay"),
        *("relay", "earth fault protection", "ground-fault relay"),
    ),
    EquipmentKind("ground_detector"): (
        *("ground detector", "earth fault detector", "earth fault indicator", "ground fault detector"),
        *("insulation monitor", "insulation monitoring device", "ground detection", "earth fault detection"),
    ),
    EquipmentKind("ground_grid"): (
        *("earth grid", "ground grid", "earth mat", "ground mat", "earthing grid", "grounding grid", "earthing system"),
        *("earthing mat", "grounding system", "station earth", "substation earth grid", "grounding mat", "mat"),
    ),
    EquipmentKind("bond"): (
        *("bond", "earth strap", "ground strap", "earth bond", "earth connection", "ground connection", "bonding"),
        *("equipotential bond", "earth tail", "earth conductor", "ground bond"),
    ),
    EquipmentKind("inspection"): ("inspection", "test report"),
}


def equipment_kind(word: str) -> EquipmentKind | None:
    """What a word for a kind of equipment means; None for one that is not known."""
    text = " ".join(word.casefold().replace("_", " ").replace(".", "").split()).strip(" :-*")
    known = _known()
    for reading in (text, text.removesuffix("s"), text.removesuffix("es")):
        if reading in known:
            return known[reading]
    return None


@cache
def _known() -> dict[str, EquipmentKind]:
    known = {word: kind for kind, words in _WORDS.items() for word in words}
    for table in INVENTORY_TABLES:
        known.setdefault(table.replace("_", " "), EquipmentKind(table))
    return known
