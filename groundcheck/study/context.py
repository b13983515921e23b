"""What the study knows once the networks are solved: the ground on which each further topic builds."""

from dataclasses import dataclass

import pandas as pd

from groundcheck.policy import Policy
from groundcheck.study.blocked import Tracer
from groundcheck.study.currents.reach import Measured
from groundcheck.study.currents.readings import Readings
from groundcheck.study.faults.zone_table import ZoneNames
from groundcheck.study.ledger import Ledger
from groundcheck.study.networks.bus_faults import Solution
from groundcheck.study.networks.capacitance import Capacitance
from groundcheck.study.networks.equipment import Generators, Infeeds, Transformers
from groundcheck.study.networks.lines import Lines
from groundcheck.study.networks.neutrals import Neutrals
from groundcheck.study.networks.solved_networks import Networks
from groundcheck.study.networks.zero_paths import ZeroSequence
from groundcheck.study.networks.zones import Topology
from groundcheck.study.records import Ints, Records
from groundcheck.study.relays.durations import Durations
from groundcheck.study.typical import Typical


@dataclass(frozen=True)
class Study:
    """
    Records, networks and results of one run.

    corners : the networks at each corner of what the record leaves open.
    faults : study.bus_fault; the rows of the maximum condition in the order of records.bus, then those of the minimum.
    sources : ground sources, by number of zone; not definite where a record must decide.
    zones : study.zone, in the order of the zones' numbers.
    bus_of_point, zone_of_point : of each neutral point, -1 where not on record.
    """

    records: Records
    policy: Policy
    ledger: Ledger
    typical: Typical
    topology: Topology
    names: ZoneNames
    networks: Networks
    corners: list[Networks]
    faults: pd.DataFrame
    sources: pd.DataFrame
    zones: pd.DataFrame
    bus_of_point: Ints
    zone_of_point: Ints
    measured: Measured
    readings: Readings
    durations: Durations
    tracer: Tracer

    @property
    def infeeds(self) -> Infeeds:
        """Infeeds as read."""
        return self.networks.infeeds

    @property
    def generators(self) -> Generators:
        """Generators as read."""
        return self.networks.generators

    @property
    def lines(self) -> Lines:
        """Lines as read."""
        return self.networks.lines

    @property
    def transformers(self) -> Transformers:
        """Transformers as read."""
        return self.networks.transformers

    @property
    def neutrals(self) -> Neutrals:
        """Neutral points and devices."""
        return self.networks.neutrals

    @property
    def zero(self) -> ZeroSequence:
        """The zero-sequence network."""
        return self.networks.zero

    @property
    def solution(self) -> Solution:
        """Impedances at every bus."""
        return self.networks.solution

    @property
    def capacitance(self) -> Capacitance:
        """Capacitance to ground of every zone."""
        return self.networks.capacitance
