"""Headings about a device in the neutral of the row's own asset, such as 'NER ohms' on a sheet of transformers."""

import re

from groundcheck.ingest.mapping.feeds import Feed, Layout, Source
from groundcheck.ingest.mapping.headings import aliases, fits_unit, spellings

_DEVICE_WORDS = {
    "resistor": (
        "ner",
        "ngr",
        "neutral earthing resistor",
        "neutral grounding resistor",
        "neutral resistor",
        "earthing resistor",
        "grounding resistor",
    ),
    "reactor": ("ngx", "neutral reactor", "earthing reactor", "neutral earthing reactor", "neutral grounding reactor"),
    "arc_suppression_coil": ("asc", "arc suppression coil", "petersen coil"),
    "": ("neutral device", "neutral"),
}
_DEVICE = re.compile(
    r"(?:(?P<before>hv|lv|tv) )?(?P<device>"
    + "|".join(sorted((word for words in _DEVICE_WORDS.values() for word in words), key=len, reverse=True))
    + r")(?: (?P<after>hv|lv|tv))?(?: (?P<rest>.+))?"
)
_HAS_NEUTRAL = ("transformer", "generator", "grounding_transformer")


def add_neutral_devices(layout: Layout) -> None:
    """Headings such as 'NER ohms' or 'HV NGR amps' describe a device in the neutral of the row's own asset."""
    primary = layout.feeds[0]
    if primary.table not in _HAS_NEUTRAL:
        return
    by_winding: dict[str | None, tuple[dict[str, Source], set[str]]] = {}
    for column in list(layout.left):
        found = _device_field(layout.region.headings[column])
        if found is None:
            continue
        name, winding, kind, unit = found
        fields, kinds = by_winding.setdefault(winding, ({}, set()))
        if name not in fields:
            fields[name] = Source("heading", (column,), unit)
            kinds.add(kind)
            del layout.left[column]
    for part, (winding, (fields, kinds)) in enumerate(by_winding.items(), 1):
        kinds.discard("")
        constants = {"kind": kinds.pop()} if len(kinds) == 1 and "kind" not in fields else {}
        feed = Feed("neutral_device", fields, False, part, None, constants, winding, primary.table)
        if "substation" in primary.fields:
            feed.fields["substation"] = primary.fields["substation"]
        layout.feeds.append(feed)


def _device_field(heading: str) -> tuple[str, str | None, str, str | None] | None:
    """Field, winding, kind and unit of a heading about a device in a neutral."""
    known = aliases("neutral_device")
    for reading, unit in spellings(heading):
        match = _DEVICE.fullmatch(reading)
        if match is None:
            continue
        rest = match["rest"]
        name = known.get(rest) if rest else "neutral_device" if match["device"] in known else None
        if rest in ("no", "number", "id", "tag", "ref"):
            name = "neutral_device"
        if name in (None, "substation", "status", "connected_to", "winding") or not fits_unit(
            "neutral_device", str(name), unit
        ):
            continue
        kind = next(kind for kind, words in _DEVICE_WORDS.items() if match["device"] in words)
        return str(name), match["before"] or match["after"], kind, unit
    return None
