"""Which zones each outage bears on, and what topology tells of them with it."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.context import Study
from groundcheck.study.networks.capacitance import first_bus
from groundcheck.study.networks.solved_networks import Networks
from groundcheck.study.outages.cut_off import Layout, lay_out, transformers_between, windings_between
from groundcheck.study.outages.impedances import supply_after
from groundcheck.study.outages.listed import taken_out
from groundcheck.study.outages.reaching import charging_left, grounds, left_endless, supplies

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]
MARKS = ("cut", "ungrounded", "unsure", "dead", "apart")


@dataclass(frozen=True)
class Pairs:
    """
    An outage and a zone each.

    rows : outage, zone; dead; ungrounded; unsure (a record decides whether it is grounded); doubtful (and whether what
        is out grounds it); apart (the outage leaves its zero-sequence network alone); left, possible (sources that
        there surely are, and that there may be); charging_a.
    left : the sources that are left, surely: pair, and what study.sources tells.
    ground_layout : the zones that zero-sequence current joins, whose rows are the first of `rows`.
    ways : what grounds zones. asked : the buses at which supply is asked for, which may be grounded.
    """

    outages: pd.DataFrame
    rows: pd.DataFrame
    left: pd.DataFrame
    ground_layout: Layout
    ways: pd.DataFrame
    asked: pd.DataFrame

    def column(self, name: str) -> Bools:
        """A column of marks."""
        return self.rows[name].to_numpy(dtype=bool)

    def endless(self, study: Study, networks: Networks) -> tuple[Bools, Bools, Bools]:
        """
        Of each pair, as these networks have it: whether Z0 is without limit; whether nothing leads to ground; whether
        capacitance decides that is not on record in full.
        """
        ways = self.ways if networks is study.networks else pd.concat([self.ways, self.asked], ignore_index=True)
        layout, solution = self.ground_layout, networks.solution
        zone = self.rows["zone"].to_numpy(dtype=np.int64)[len(layout.rows) :]
        bus = first_bus(study.topology)[zone]
        changed = left_endless(networks, study.topology, layout, ways)
        as_before = solution.charging_decides[bus], solution.no_path[bus], solution.open_charging[bus]
        first, second, third = (np.concatenate(each) for each in zip(changed, as_before, strict=True))
        return first, second, third


def find_pairs(study: Study, outages: pd.DataFrame) -> Pairs:
    """
    Zones that share a zero-sequence network with what is out; zones that lose their supply; and zones whose supply it
    weakens by more than the tolerance of impedances.
    """
    count = study.topology.zone_count
    gone = taken_out(study, outages)
    ground = lay_out(outages, gone[["outage", "zone"]], windings_between(study), count)
    supply = lay_out(outages, _terminals(study, outages), transformers_between(study), count)
    ways, feeds = grounds(study), supplies(study)
    fed = supply.reached(feeds)
    rows = ground.rows.assign(**_grounding(study, ground, ways), apart=False)
    rows["charging_a"] = charging_left(study.networks, study.topology, ground)
    further = supply.rows[~fed | _weakened(study, outages, supply.rows)]
    rows = _joined(rows, supply.rows.assign(dead=~fed), further[["outage", "zone"]])
    own = study.capacitance.charging_a[rows["zone"].to_numpy(dtype=np.int64)]
    rows["charging_a"] = np.where(rows["apart"], own, rows["charging_a"])
    left, rows = _sources_left(study, rows, gone)
    asked = feeds[feeds["asset"] == -1].assign(definite=False, coil=False)
    return Pairs(outages, rows, left, ground, ways, asked)


def _grounding(study: Study, ground: Layout, ways: pd.DataFrame) -> dict[str, Bools]:
    """Whether no sure way to ground is left: surely none, or as a record has it."""
    cut = ~ground.reached(ways[ways["definite"]])
    on_record = study.zones["supply_on_record"].to_numpy(dtype=bool)[ground.rows["zone"].to_numpy(dtype=np.int64)]
    may = ground.reached(ways) | ~on_record
    return {"cut": cut, "ungrounded": cut & ~may, "unsure": cut & may}


def _weakened(study: Study, outages: pd.DataFrame, rows: pd.DataFrame) -> Bools:
    """Pairs in which Z1 differs with the outage by more than what the record is off; False where it is not known."""
    bus = first_bus(study.topology)[rows["zone"].to_numpy(dtype=np.int64)]
    before = study.solution.z1["max"][bus]
    after = supply_after(study.networks, outages, rows["outage"].to_numpy(dtype=np.int64), study.topology.node[bus])
    with np.errstate(invalid="ignore"):
        return np.asarray(np.abs(after - before) > study.policy["tolerance.impedance"] * np.abs(before))


def _joined(rows: pd.DataFrame, dead: pd.DataFrame, further: pd.DataFrame) -> pd.DataFrame:
    """The rows with whether they are dead, and then those further ones that are not among them."""
    rows = rows.merge(dead, on=["outage", "zone"], how="left")
    added = further.merge(rows[["outage", "zone"]], on=["outage", "zone"], how="left", indicator="among")
    added = added[added["among"] == "left_only"].drop(columns="among").assign(apart=True)
    added = added.merge(dead, on=["outage", "zone"], how="left")
    both = pd.concat([rows, added], ignore_index=True)
    return both.assign(**{name: both[name].eq(True) for name in MARKS})


def _terminals(study: Study, outages: pd.DataFrame) -> pd.DataFrame:
    """Zones at which the assets stand that feed something."""
    zone = study.topology.zone
    bus_of = {
        "transformer": study.transformers.bus[:, 0],
        "infeed": study.infeeds.bus,
        "generator": study.generators.bus,
    }
    parts = []
    for kind, bus in bus_of.items():
        mine = outages[outages["kind"] == kind]
        at = bus[mine["row"].to_numpy(dtype=np.int64)]
        parts.append(pd.DataFrame({"outage": mine.index[at >= 0], "zone": zone[at[at >= 0]]}))
    return pd.concat(parts, ignore_index=True).astype(np.int64)


def _sources_left(study: Study, rows: pd.DataFrame, gone: pd.DataFrame) -> tuple[pd.DataFrame, pd.DataFrame]:
    """The sources that each pair still has, and the pairs with how many they are."""
    sources = study.sources.reset_index(drop=True).rename_axis("source").reset_index()
    pairs = rows[["outage", "zone", "cut"]].rename_axis("pair").reset_index()
    of_pairs = pairs.merge(sources, on="zone").merge(
        gone[["outage", "source"]].assign(gone=True), on=["outage", "source"], how="left"
    )
    stay = of_pairs["gone"].isna()
    count = len(rows)
    sure = stay & of_pairs["definite"] & ~of_pairs["cut"]
    number = {
        name: np.bincount(of_pairs.loc[which, "pair"].to_numpy(dtype=np.int64), minlength=count)
        for name, which in (("left", sure), ("possible", stay & ~(of_pairs["cut"] & of_pairs["definite"])))
    }
    lost = of_pairs[~stay].groupby("pair")["definite"].any().reindex(range(count), fill_value=True)
    return of_pairs[sure], rows.assign(**number, doubtful=~lost.to_numpy(dtype=bool))
