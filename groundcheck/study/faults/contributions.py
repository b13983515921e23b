"""What each ground source of a zone contributes to a line-to-ground fault at each of its buses."""

import numpy as np
import pandas as pd

from groundcheck.study.context import Study
from groundcheck.study.currents.meters import Meters, gathered_probes, phasors
from groundcheck.study.networks.sequence_network import reciprocal
from groundcheck.study.records import Ints

COLUMNS = ["kind", "row", "zone"]


def contribution_tables(study: Study) -> dict[str, pd.DataFrame]:
    """
    The rows of study.contribution, in the maximum condition.

    What a source sends into the zone is read at its terminal there, so that an auto-transformer counts in both of its
    zones. What the sources do not carry is the charging current of the zone. Where a source is not known, so is every
    contribution in its zone.
    """
    sources, meters = _sources(study)
    buses = pd.DataFrame({"zone": study.topology.zone, "bus": np.arange(study.topology.zone.size)})
    cases = sources.reset_index(names="meter").merge(buses, on="zone")
    share = phasors(meters, cases, study.topology, study.solution, "max")
    bus = cases["bus"].to_numpy(dtype=np.int64)
    fault = study.faults[study.faults["condition"] == "max"]
    amperes = share * fault["line_to_ground_ka"].to_numpy(dtype=float)[bus] * 1e3
    records = study.records
    return {
        "contribution": pd.DataFrame(
            {
                "substation": records.bus["substation"].to_numpy(dtype=object)[bus],
                "bus": records.bus["bus"].to_numpy(dtype=object)[bus],
                "source_substation": cases["substation"].to_numpy(dtype=object),
                "source_kind": cases["kind"].to_numpy(dtype=object),
                "source": cases["asset"].to_numpy(dtype=object),
                "current_a": np.abs(amperes),
                "current_re_a": amperes.real,
                "current_im_a": amperes.imag,
                "provisional": fault["provisional"].to_numpy(dtype=bool)[bus],
            }
        )
    }


def _sources(study: Study) -> tuple[pd.DataFrame, Meters]:
    """One row a source and zone, numbered as its meters are."""
    zone_of_node = np.zeros(study.zero.network.count, dtype=np.int64)
    zone_of_node[study.topology.node] = study.topology.zone
    point, node, y, terminal = gathered_probes(study.zero)
    points = study.neutrals.points
    windings = pd.DataFrame(
        {
            "kind": points["asset_kind"].to_numpy(dtype=object)[point],
            "row": points["row"].to_numpy(dtype=np.int64)[point],
            "zone": zone_of_node[terminal],
            "node": node,
            "y": y,
        }
    )
    infeeds = study.infeeds
    live = (infeeds.node >= 0) & ~np.isinf(infeeds.z0["max"])
    supplies = pd.DataFrame(
        {
            "kind": "infeed",
            "row": np.flatnonzero(live),
            "zone": zone_of_node[infeeds.node[live]],
            "node": infeeds.node[live],
            "y": reciprocal(infeeds.z0["max"][live]),
        }
    )
    reads = pd.concat([each for each in (windings, supplies) if len(each)] or [windings], ignore_index=True)
    number = reads.groupby(COLUMNS, sort=True).ngroup().to_numpy(dtype=np.int64)
    sources = reads[COLUMNS].assign(number=number).drop_duplicates("number").sort_values("number")
    sources = sources.drop(columns="number").reset_index(drop=True)
    meters = Meters(
        np.asarray(number, dtype=np.int64),
        reads["node"].to_numpy(dtype=np.int64),
        reads["y"].to_numpy(dtype=complex),
        len(sources),
        np.full(len(reads), -1, dtype=np.int64),
    )
    return _named(study, sources), meters


def _named(study: Study, sources: pd.DataFrame) -> pd.DataFrame:
    sources = sources.assign(substation=None, asset=None)
    row: Ints = sources["row"].to_numpy(dtype=np.int64)
    for kind in sources["kind"].unique():
        mine = (sources["kind"] == kind).to_numpy()
        station, tag = study.records.tags(str(kind))
        sources.loc[mine, "substation"], sources.loc[mine, "asset"] = station[row[mine]], tag[row[mine]]
    return sources
