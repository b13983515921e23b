"""The identity of a finding, by which one audit's findings are known in the next and waivers name them."""

import hashlib


def finding_id(rule: str, substation: str, asset_kind: str, asset: str, item: str | None) -> str:
    """The identity of a finding: the same from one audit to the next while rule, asset and item are."""
    text = "|".join((rule, substation, asset_kind, asset, item or ""))
    return "F" + hashlib.sha256(text.encode()).hexdigest()[:10]
