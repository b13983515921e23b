"""The equipment as read, the networks built from it, and what was solved."""

from dataclasses import dataclass

from groundcheck.study.networks.bus_faults import Solution
from groundcheck.study.networks.capacitance import Capacitance
from groundcheck.study.networks.equipment import Generators, Infeeds, Transformers
from groundcheck.study.networks.lines import Lines
from groundcheck.study.networks.method import Method
from groundcheck.study.networks.neutrals import Neutrals
from groundcheck.study.networks.zero_paths import ZeroSequence
from groundcheck.study.records import Records


@dataclass(frozen=True)
class Networks:
    """
    The equipment as read, the networks built from it, and what was solved.

    infeeds : with the voltage factor of the method; generators and transformers are uncorrected.
    zero, zero_of : the zero-sequence network of the maximum condition, and that of each condition.
    """

    records: Records
    infeeds: Infeeds
    generators: Generators
    lines: Lines
    transformers: Transformers
    neutrals: Neutrals
    zero: ZeroSequence
    capacitance: Capacitance
    solution: Solution
    zero_of: dict[str, ZeroSequence]
    method: Method
