"""Where relays stand: at what they measure, or with the voltage transformer that feeds them."""

from collections.abc import Callable

from groundcheck.report.one_line.findings import Row

MEASURED = (
    "neutral_device",
    "grounding_transformer",
    "instrument_transformer",
    "line",
    "generator",
    "transformer",
    "bus",
)
"""Where a relay's `measures` is looked up, the most telling first: a tag may serve several kinds."""


def place_relays(
    rows: Callable[[str], list[Row]], local: Callable[[str], str]
) -> tuple[dict[tuple[str, str], list[Row]], list[tuple[str, Row, str]]]:
    """Relays by kind and tag of what they measure; those that cannot be placed, and why."""
    tags = {kind: {str(row.get(kind)) for row in rows(kind)} for kind in MEASURED}
    vts = {
        str(row["relay"]): str(row["instrument_transformer"])
        for row in rows("ground_detector")
        if row.get("relay") and str(row.get("instrument_transformer")) in tags["instrument_transformer"]
    }
    placed: dict[tuple[str, str], list[Row]] = {}
    loose: list[tuple[str, Row, str]] = []
    for row in rows("ground_relay"):
        tag = str(row["ground_relay"])
        what = local(str(row.get("measures") or ""))
        kind = next((kind for kind in MEASURED if what in tags[kind]), None)
        if tag in vts and kind in (None, "bus"):
            kind, what = "instrument_transformer", vts[tag]
        if kind is None:
            why = f"measures {what}, not on record" if what else "what it measures is not on record"
            loose.append(("ground_relay", row, why))
        else:
            placed.setdefault((kind, what), []).append(row)
    return placed, loose
