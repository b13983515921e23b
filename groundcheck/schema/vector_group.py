"""Vector groups in the notation of IEC 60076-1: capital HV letter, then LV and tertiary, N or n where brought out."""

import re
from dataclasses import dataclass

_PATTERN = re.compile(
    r"(?P<hv>YN|Y|D|ZN|Z)(?P<hvclock>)"
    r"(?P<lv>yn|y|d|zn|z|auto|a)(?P<lvclock>1[01]|[0-9])?"
    r"(?:(?P<tv>yn|y|d|zn|z)(?P<tvclock>1[01]|[0-9])?)?\Z"
)


@dataclass(frozen=True)
class VectorGroup:
    """Winding connections 'YN', 'Y', 'D', 'ZN', 'Z' and 'A' (auto), in capitals; None where there is no tertiary."""

    hv: str
    lv: str
    tv: str | None
    text: str

    def connection(self, winding: str) -> str | None:
        """The connection of winding 'hv', 'lv' or 'tv'."""
        return {"hv": self.hv, "lv": self.lv, "tv": self.tv}[winding]


def parse_vector_group(text: str) -> VectorGroup:
    """
    Read a vector group already in IEC notation, clock numbers optional.

    Raises
    ------
    ValueError
        The text is not a vector group, or a clock number is not 0 to 11.
    """
    match = _PATTERN.match(text)
    if match is None:
        raise ValueError(f"'{text}' is not an IEC 60076-1 vector group such as YNd11, Dyn1 or YNyn0d11")
    lv = match["lv"].upper()
    return VectorGroup(
        hv=match["hv"],
        lv="A" if lv == "AUTO" else lv,
        tv=match["tv"].upper() if match["tv"] else None,
        text=text,
    )
