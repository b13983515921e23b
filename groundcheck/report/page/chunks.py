"""What the page shows of one station, packed so that it is opened only when asked for."""

import math
from collections.abc import Sequence
from typing import Any

from groundcheck.audit.wording import in_digits
from groundcheck.report.facts import FindingFacts, StationFacts
from groundcheck.report.facts.stations import Blocking, LeftOut, NotAssessable, StandsIn
from groundcheck.report.field_names import field_in_words, kind_in_words
from groundcheck.report.one_line import one_line_svg
from groundcheck.report.page.missing_index import place_to_fill
from groundcheck.report.page.packing import packed
from groundcheck.report.page.pictures import Frames, phasor_pictures
from groundcheck.report.page.station_tables import station_tables, zone_names

_SHOWN_FIRST = ("owner", "criticality", "customers", "frequency", "also_known_as", "latitude", "longitude")
_NO_FACT = (
    *("substation", "name", "district", "status"),
    *("inventory", "study", "assumptions", "not_assessable", "left_out"),
)


def chunk(station: StationFacts | None, findings: Sequence[FindingFacts], frames: Frames, level: int = 6) -> str:
    """
    A station's details, packed; without a station, the findings that belong to none.

    How its pictures are drawn goes into `frames`.
    """
    told: dict[str, Any] = {"findings": [_shown(each) for each in findings]}
    if station is not None:
        told |= {
            "substation": station["substation"],
            "facts": _facts(station),
            "diagram": one_line_svg(station, findings),
            "zones": zone_names(station),
            "phasors": phasor_pictures(station, frames),
            "tables": station_tables(station),
            "missing": [_missing(each) for each in station["not_assessable"]],
            "assumptions": [_assumption(each) for each in station["assumptions"]],
            "left_out": [_left_out(each) for each in station["left_out"]],
        }
    return packed(told, level)


def _shown(finding: FindingFacts) -> dict[str, Any]:
    """A finding as the page shows it: what every finding of its rule shares stands in the page once."""
    left_to_the_rule = ("title", "why", "cannot_see", "formula", "basis", "substation", "district", "remedy")
    return {key: value for key, value in finding.items() if key not in left_to_the_rule and value not in (None, [], "")}


def _facts(station: StationFacts) -> list[tuple[str, str]]:
    values = {name: value for name, value in station.items() if name not in _NO_FACT}
    names = [*(n for n in _SHOWN_FIRST if n in values), *(n for n in values if n not in _SHOWN_FIRST)]
    return [(field_in_words("substation", name), _plain(values[name])) for name in names]


def _plain(value: Any) -> str:
    if isinstance(value, float) and not math.isfinite(value):
        return "without limit"
    return in_digits(value) or ""


def _missing(each: NotAssessable) -> dict[str, Any]:
    fields = each["fields"]
    return {
        **{key: each[key] for key in ("rule", "asset_kind", "asset", "item") if each[key]},
        "field": "\n".join(dict.fromkeys(_field(one) for one in fields)) or "no single field named",
        "place": "\n".join(dict.fromkeys(place_to_fill(one["file"], one["sheet"], one["cell"]) for one in fields)),
    }


def _field(one: Blocking) -> str:
    return f"{field_in_words(one['asset_kind'], one['field'])} of {kind_in_words(one['asset_kind'])} {one['asset']}"


def _assumption(each: StandsIn) -> list[str]:
    kind = each["asset_kind"]
    return [
        kind_in_words(kind),
        each["asset"],
        field_in_words(kind, each["field"]),
        each["value"] or "",
        each["why"] or "",
    ]


def _left_out(each: LeftOut) -> list[str]:
    return [kind_in_words(each["asset_kind"]), each["asset"], each["why"] or ""]
