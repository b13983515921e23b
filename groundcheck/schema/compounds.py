"""Headings under which one cell holds several facts, such as '33/11' or '400 A / 10 s'."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Compound:
    """
    Fields of one table in the order in which a cell gives them; None is a part that no field holds.

    A heading that is given with a unit is meant only where it stands with a unit.
    """

    table: str
    fields: tuple[str | None, ...]
    headings: tuple[str, ...]


# Headings in lower case, as registers write them; common practice, no source.
COMPOUNDS = (
    Compound(
        "transformer",
        ("hv_voltage", "lv_voltage"),
        (
            "voltage ratio",
            "kv ratio",
            "ratio",
            "rated voltage ratio",
            "transformation ratio",
            "voltages",
            "rated voltages",
            "hv/lv voltage",
            "hv/lv volts",
            "voltage hv/lv",
            "primary/secondary voltage",
            "hv/lv kv",
        ),
    ),
    Compound(
        "transformer",
        ("hv_voltage", "lv_voltage", "tv_voltage"),
        ("hv/lv/tv voltage", "voltage hv/lv/tv", "voltage ratio hv/lv/tv", "hv/lv/tv kv"),
    ),
    Compound(
        "transformer",
        ("rated_power", None, "tv_power"),
        ("hv/lv/tv rating", "rating hv/lv/tv", "hv/lv/tv power", "hv/lv/tv mva"),
    ),
    Compound(
        "transformer",
        ("hv_neutral", "lv_neutral"),
        (
            "hv/lv neutral",
            "hv/lv neutrals",
            "neutral hv/lv",
            "hv/lv neutral earthing",
            "hv/lv neutral grounding",
            "hv/lv earthing",
            "hv/lv grounding",
        ),
    ),
    Compound(
        "neutral_device",
        ("rated_current", "rated_time"),
        (
            "rating",
            "duty",
            "rated duty",
            "current rating",
            "short time rating",
            "short-time rating",
            "current/time",
            "rated current/time",
            "current and time",
        ),
    ),
    Compound(
        "grounding_transformer",
        ("rated_neutral_current", "rated_time"),
        (
            "rating",
            "duty",
            "rated duty",
            "neutral rating",
            "neutral duty",
            "short time rating",
            "short-time rating",
            "current/time",
            "neutral current/time",
        ),
    ),
    Compound(
        "instrument_transformer",
        ("primary", "secondary"),
        ("ratio", "ct ratio", "vt ratio", "rated ratio", "pt ratio", "ct/vt ratio", "primary/secondary"),
    ),
    Compound("ground_relay", ("ct_primary", "ct_secondary"), ("ct ratio", "ratio")),
    Compound("ground_relay", ("vt_primary", "vt_secondary"), ("vt ratio", "pt ratio", "ratio")),
)
