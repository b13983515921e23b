"""Two findings of one rule, as the tests of waivers know them."""

from typing import Any

import pandas as pd

from groundcheck.finding_identity import finding_id
from groundcheck.store import Store

RULE = "neutral-devices/rated-current"
RATED = {
    "rule": RULE,
    "severity": "high",
    "substation": "ASH",
    "district": "North",
    "asset_kind": "neutral_device",
    "asset": "NR1",
    "message": "NR1 is rated 400 A; its duty is 640 A",
    "actual": "400",
    "required": "640",
    "unit": "A",
    "actual_value": 400.0,
    "required_value": 640.0,
    "status": "open",
}
FIRST = finding_id(RULE, "ASH", "neutral_device", "NR1", None)
SECOND = finding_id(RULE, "ASH", "neutral_device", "NR2", None)


def put_findings(store: Store, *rows: dict[str, Any]) -> None:
    """Have the audit of a store find these."""
    store.clear("audit", "finding")
    whose = ("rule", "substation", "asset_kind", "asset", "item")
    named = [{"item": None, **row} for row in rows]
    named = [row | {"finding": finding_id(*(row[name] for name in whose))} for row in named]
    store.write("audit", "finding", pd.DataFrame(named))
