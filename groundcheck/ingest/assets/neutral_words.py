"""What a transformer register says of its neutrals in words, as neutral devices and grounding transformers."""

from dataclasses import dataclass, field
from typing import Any

import pandas as pd

from groundcheck.ingest.assets.frame_rows import frame_rows, plain_list
from groundcheck.ingest.assets.identity import tag_key, tag_keys

_GROUNDING_TRANSFORMER = "grounding_transformer"
_DEVICE_OF = {"resistor": "resistor", "reactor": "reactor", "coil": "arc_suppression_coil"}
_DEVICE_KINDS = ("solid", "resistor", "reactor", "arc_suppression_coil", "surge_arrester", "open")


@dataclass(frozen=True)
class Treatment:
    """What one neutral word describes."""

    grounding_transformer: bool
    devices: tuple[str, ...]
    shared: bool


@dataclass
class Derived:
    """The records that words give, without ratings, so that what is missing can be asked for."""

    devices: list[dict[str, Any]] = field(default_factory=list)
    grounding_transformers: list[dict[str, Any]] = field(default_factory=list)
    shared: dict[tuple[str, float, str], dict[str, Any]] = field(default_factory=dict)
    plain: list[pd.DataFrame] = field(default_factory=list)


def read_treatment(word: str) -> Treatment:
    """Take a word of the vocabulary apart: 'grounding_transformer_shared_resistor' has three parts."""
    if word in _DEVICE_KINDS:
        return Treatment(False, (word,), False)
    transformer = word.startswith(_GROUNDING_TRANSFORMER)
    parts = word.removeprefix(_GROUNDING_TRANSFORMER).strip("_").split("_")
    devices = tuple(_DEVICE_OF[part] for part in parts if part in _DEVICE_OF)
    return Treatment(transformer, devices, "shared" in parts)


def derive_from_words(frames: dict[str, pd.DataFrame]) -> Derived:
    """
    Devices and grounding transformers that transformers' neutral words describe.

    A neutral in which a device is on record, or a bus with a grounding transformer on record, is left as recorded.
    Of two secondary windings of one voltage, what is said of LV holds for both unless the other has words of its own.
    """
    standing = _recorded_neutrals(frames["neutral_device"])
    on_bus = {
        (tag_key(row["substation"]), tag_key(row["bus"])): str(row["grounding_transformer"])
        for row in frame_rows(frames[_GROUNDING_TRANSFORMER], "substation", "grounding_transformer", "bus")
        if isinstance(row["bus"], str)
    }
    derived = Derived()
    frame = frames["transformer"]
    for winding in ("hv", "lv", "tv"):
        _derive_all(frame[frame[f"{winding}_neutral"].notna()], winding, winding, standing, on_bus, derived)
    twins = frame["tv_bus"].notna() & frame["tv_neutral"].isna() & frame["lv_neutral"].notna()
    _derive_all(frame[twins & (frame["tv_voltage"] == frame["lv_voltage"])], "tv", "lv", standing, on_bus, derived)
    derived.devices += derived.shared.values()
    return derived


def _derive_all(
    said: pd.DataFrame,
    winding: str,
    said_of: str,
    standing: set[tuple[str, str, str]],
    on_bus: dict[tuple[str, str], str],
    derived: Derived,
) -> None:
    if standing and len(said):
        keys = zip(tag_keys(said["substation"]), tag_keys(said["transformer"]), strict=True)
        said = said[[(*key, winding) not in standing for key in keys]]
    words = said[f"{said_of}_neutral"]
    plain = words.isin(_DEVICE_KINDS).to_numpy()
    derived.plain.append(_plain_devices(said[plain], winding, said_of))
    names = ("substation", "transformer", "raw_row", f"{said_of}_neutral", f"{winding}_bus", f"{winding}_voltage")
    for row in frame_rows(said[~plain], *dict.fromkeys(names)):
        _derive(row, winding, said_of, standing, on_bus, derived)


def _plain_devices(said: pd.DataFrame, winding: str, said_of: str) -> pd.DataFrame:
    """The devices of words that are the kind of one device in the transformer's own neutral."""
    tags = said["transformer"]
    return pd.DataFrame(
        {
            "substation": said["substation"],
            "neutral_device": tags + f" {winding.upper()} neutral",
            "connected_to": pd.Series([[tag] for tag in plain_list(tags)], index=said.index, dtype="object"),
            "kind": said[f"{said_of}_neutral"],
            "winding": winding,
            "raw_row": said["raw_row"],
            "inferred_from": f"transformer.{said_of}_neutral",
        }
    )


def _recorded_neutrals(devices: pd.DataFrame) -> set[tuple[str, str, str]]:
    standing = set()
    for row in frame_rows(devices, "substation", "connected_to", "winding"):
        windings = [row["winding"]] if isinstance(row["winding"], str) else ["hv", "lv", "tv"]
        for written in row["connected_to"] or ():
            station, colon, tag = str(written).partition(":")
            home = (tag_key(station), tag_key(tag)) if colon else (tag_key(row["substation"]), tag_key(str(written)))
            standing |= {(*home, winding) for winding in (*windings, "")}
    return standing


def _derive(
    row: dict[str, Any],
    winding: str,
    said_of: str,
    standing: set[tuple[str, str, str]],
    on_bus: dict[tuple[str, str], str],
    derived: Derived,
) -> None:
    treatment = read_treatment(str(row[f"{said_of}_neutral"]))
    station, tag = str(row["substation"]), str(row["transformer"])
    origin = {
        "substation": station,
        "raw_row": row["raw_row"],
        "part": 1,
        "inferred_from": f"transformer.{said_of}_neutral",
        "records_position": -1,
        "is_primary": False,
    }
    side = "" if winding == "lv" else f" {winding.upper()}"
    neutral, neutral_winding, name = tag, winding, f"{tag} {winding.upper()} neutral"
    if treatment.grounding_transformer:
        bus = row[f"{winding}_bus"]
        if not isinstance(bus, str):
            return
        neutral = on_bus.get((tag_key(station), tag_key(bus)), f"{tag}{side} grounding transformer")
        neutral_winding, name = "", f"{neutral} neutral"
        if (tag_key(station), tag_key(bus)) not in on_bus:
            derived.grounding_transformers.append(
                origin | {"grounding_transformer": neutral, "bus": bus, "connection": "zigzag"}
            )
        if (tag_key(station), tag_key(neutral), "") in standing:
            return
    for kind in treatment.devices:
        if treatment.shared:
            _share(row, winding, neutral, neutral_winding, kind, origin, derived)
            continue
        several = f" {kind.replace('_', ' ')}" if len(treatment.devices) > 1 else ""
        device: dict[str, Any] = {"neutral_device": name + several, "connected_to": [neutral], "kind": kind}
        derived.devices.append(origin | device | {"winding": neutral_winding or None})


def _share(
    row: dict[str, Any],
    winding: str,
    neutral: str,
    neutral_winding: str,
    kind: str,
    origin: dict[str, Any],
    derived: Derived,
) -> None:
    """One device a station, voltage and kind serves all the neutrals that say so."""
    voltage = row[f"{winding}_voltage"]
    voltage = 0.0 if pd.isna(voltage) else float(voltage)
    place = (tag_key(origin["substation"]), voltage, kind)
    shown = f"{voltage:g} kV " if voltage else ""
    name = f"shared {shown}{kind.replace('_', ' ')}"
    device: dict[str, Any] = {
        "neutral_device": name,
        "connected_to": [],
        "kind": kind,
        "winding": neutral_winding or None,
    }
    shared = derived.shared.setdefault(place, origin | device)
    if neutral not in shared["connected_to"]:
        shared["connected_to"].append(neutral)
    if shared["winding"] != (neutral_winding or None):
        shared["winding"] = None
