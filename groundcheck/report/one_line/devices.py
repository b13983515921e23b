"""Which neutral a neutral device stands in, by its own record and by the study."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from groundcheck.report.one_line.findings import Row
from groundcheck.report.one_line.model import Device, Neutral, Winding


class Devices:
    """Neutral devices on record; each is drawn at the first neutral that it is given to."""

    def __init__(self, rows: Iterable[Row], studied: Sequence[Row], code: str, local: Callable[[str], str]) -> None:
        self.code, self.studied, self.local = code, studied, local
        self.devices: dict[str, dict[str, Any]] = {
            str(row["neutral_device"]): {"row": row, "to": [str(each) for each in _several(row)], "drawn": False}
            for row in rows
        }

    def left(self) -> list[Row]:
        """Those that stand at no neutral."""
        return [device["row"] for device in self.devices.values() if not device["drawn"]]

    def neutral(self, kind: str, tag: str, winding: str | None, brought_out: bool | None) -> Neutral:
        """Devices whose record names this neutral, or that the study connects to it."""
        studied = [
            row
            for row in self.studied
            if row.get("asset") == tag
            and row.get("asset_kind") == kind
            and row.get("substation") == self.code
            and (winding is None or row.get("winding") == winding)
        ]
        neutral = Neutral(brought_out, taken_as=next((r["treatment"] for r in studied if r.get("treatment")), None))
        named = {
            str(row["neutral_device"])
            for row in studied
            if row.get("neutral_device") and row.get("device_substation") in (None, self.code)
        }
        for name, device in self.devices.items():
            to = [self.local(each) for each in device["to"]]
            own = device["row"].get("winding")
            if (
                name in named
                or (tag in to and winding is not None and own == winding)
                or (tag in to and winding is None)
            ):
                others = tuple(each for each in to if each != tag)
                neutral.devices.append(Device(device["row"], name, not device["drawn"], others))
                device["drawn"] = True
        for row in studied:
            if row.get("neutral_device") and row.get("device_substation") not in (None, self.code):
                name = f"{row['device_substation']}:{row['neutral_device']}"
                neutral.devices.append(Device({}, name, False))
        return neutral

    def adopt(self, tag: str, windings: dict[str, Winding]) -> None:
        """A device that names the transformer and no winding that it has stands at its likeliest neutral."""
        for name, device in self.devices.items():
            if device["drawn"] and any(d.tag == name for w in windings.values() for d in w.neutral.devices):
                continue
            to = [self.local(each) for each in device["to"]]
            if tag not in to or (device["row"].get("winding") in windings and device["drawn"]):
                continue
            out = [w for w in windings.values() if w.neutral.brought_out] or [windings["lv"]]
            others = tuple(each for each in to if each != tag)
            out[-1].neutral.devices.append(Device(device["row"], name, not device["drawn"], others))
            device["drawn"] = True


def _several(row: Row) -> Sequence[object]:
    to = row.get("connected_to")
    return [] if to is None else [to] if isinstance(to, str) else list(to)
