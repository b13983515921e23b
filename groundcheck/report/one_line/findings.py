"""Findings of a station by asset: the mark of the worst, how many in words."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from groundcheck.report.marks import SEVERITIES, Mark, of_finding

Row = Mapping[str, Any]


class Findings:
    """Open and waived findings of a station, by asset."""

    def __init__(self, station: str, findings: Iterable[Row]) -> None:
        self.by_asset: dict[tuple[str, str], list[Row]] = {}
        for finding in findings:
            if finding.get("substation") == station:
                key = (finding.get("asset_kind") or "", finding.get("asset") or "")
                self.by_asset.setdefault(key, []).append(finding)

    def mark(self, kind: str, tag: str) -> Mark | None:
        """The mark of the worst open finding, else that of waived ones."""
        rows = self.by_asset.get((kind, tag))
        return worst_mark(rows) if rows else None

    def words(self, kind: str, tag: str) -> str | None:
        """'2 open findings, worst high'."""
        rows = self.by_asset.get((kind, tag))
        return findings_in_words(rows) if rows else None


def worst_mark(rows: Sequence[Row]) -> Mark:
    """Of some findings."""
    order = list(SEVERITIES)
    marks = [of_finding(row.get("severity") or "", row.get("status")) for row in rows]
    return min(marks, key=lambda mark: order.index(mark.key) if mark.key in order else len(order))


def findings_in_words(rows: Sequence[Row]) -> str:
    """How many are open, the worst of them, how many are waived."""
    waived = sum(row.get("status") == "waived" for row in rows)
    is_open = len(rows) - waived
    said = [f"{is_open} open finding{'' if is_open == 1 else 's'}, worst {worst_mark(rows).word}"] if is_open else []
    return "; ".join([*said, *([f"{waived} waived"] if waived else [])])
