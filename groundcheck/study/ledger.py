"""What the study assumed, what it left out, and which thin records block which networks."""

from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.records import Records

Bools = NDArray[np.bool_]
NETWORKS = ("positive", "zero", "minimum")  # minimum: what bears on the infeeds' minimum condition only
BLOCK_COLUMNS = ["node", "blocking_substation", "blocking_asset_kind", "blocking_asset", "field"]


@dataclass
class Ledger:
    """Rows gathered while the networks are built; nodes tell which network each row bears on."""

    records: Records
    assumptions: list[pd.DataFrame] = field(default_factory=list)
    left_out: list[pd.DataFrame] = field(default_factory=list)
    blocks: dict[str, list[pd.DataFrame]] = field(default_factory=lambda: {n: [] for n in NETWORKS})
    assumed_nodes: dict[str, list[NDArray[np.int64]]] = field(default_factory=lambda: {n: [] for n in NETWORKS})

    def assume(
        self, kind: str, which: Bools, column: str, value: Any, why: str, nodes: dict[str, NDArray[np.int64]]
    ) -> None:
        """Note that `column` of the assets marked in `which` takes `value`; `nodes`: where, a network."""
        if not which.any():
            return
        substation, tag = self.records.tags(kind)
        values = np.broadcast_to(np.asarray(value, dtype=object), which.shape)[which]
        self.assumptions.append(
            pd.DataFrame(
                {
                    "substation": substation[which],
                    "asset_kind": kind,
                    "asset": tag[which],
                    "field": column,
                    "value": [str(v) for v in values],
                    "why": why,
                }
            )
        )
        for network, node in nodes.items():
            at = node[which].ravel()
            self.assumed_nodes[network].append(at[at >= 0])

    def block(self, network: str, kind: str, which: Bools, column: str, node: NDArray[np.int64]) -> None:
        """Note that `column` of the assets marked is not on record, so that the network at `node` is not known."""
        which = which & (node >= 0)
        if not which.any():
            return
        substation, tag = self.records.tags(kind)
        self.blocks[network].append(
            pd.DataFrame(
                {
                    "node": node[which],
                    "blocking_substation": substation[which],
                    "blocking_asset_kind": kind,
                    "blocking_asset": tag[which],
                    "field": column,
                }
            )
        )

    def leave_out(self, kind: str, which: Bools, column: str, why: NDArray[np.object_]) -> None:
        """Note that the assets marked are not used in the study."""
        if not which.any():
            return
        substation, tag = self.records.tags(kind)
        self.left_out.append(
            pd.DataFrame(
                {
                    "substation": substation[which],
                    "asset_kind": kind,
                    "asset": tag[which],
                    "why": why[which],
                    "field": column,
                }
            )
        )

    def blocked(self, network: str) -> pd.DataFrame:
        """All blocks of one network."""
        rows = self.blocks[network]
        return pd.concat(rows, ignore_index=True) if rows else pd.DataFrame(columns=BLOCK_COLUMNS)

    def assumed(self, network: str, node_count: int) -> Bools:
        """Whether an assumed value stands at each node of a network."""
        marks = np.zeros(node_count, dtype=bool)
        for nodes in self.assumed_nodes[network]:
            marks[nodes] = True
        return marks
