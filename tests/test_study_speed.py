"""Ground faults at all buses of a large fleet, against the time of a general-purpose library on the same network."""

import os
import time

import numpy as np
import power_grid_model as pgm
import pytest
from networks.fleet_of_ten_thousand import BUSES, FACTOR, STATIONS, draw, inventory, library_model

from groundcheck.policy import load_policy
from groundcheck.store import Store
from groundcheck.study.ledger import Ledger
from groundcheck.study.networks import solve
from groundcheck.study.networks.neutrals import find_neutrals
from groundcheck.study.networks.zones import join_zones
from groundcheck.study.records import read_records
from groundcheck.study.typical import Typical

# How many times as long as the library the network study may take; on a machine of two cores it is 1.1.
LIMIT = float(os.environ.get("GROUNDCHECK_NETWORK_LIMIT", "4.0"))
STATIONS_A_MODEL = 1_000


@pytest.fixture(scope="module")
def drawn():
    return draw()


@pytest.fixture(scope="module")
def store(drawn):
    store = Store()
    for name, table in inventory(drawn).items():
        store.write("inventory", name, table)
    return store


def network_study(store, policy):
    """From the tables of the store to the impedances at all buses."""
    records = read_records(store)
    ledger = Ledger(records)
    topology = join_zones(records, ledger)
    neutrals = find_neutrals(records, ledger, policy)
    return records, solve.build_and_solve(records, topology, neutrals, Typical(ledger, policy))


def library_currents(drawn):
    """Line-to-ground current at every bus in A, shape (stations, buses); the library's own threads do the batches."""
    found = np.empty((STATIONS, len(BUSES)))
    for first in range(0, STATIONS, STATIONS_A_MODEL):
        model, update = library_model(drawn, first, first + STATIONS_A_MODEL)
        result = model.calculate_short_circuit(
            update_data={"fault": update}, threading=0,
            short_circuit_voltage_scaling=pgm.ShortCircuitVoltageScaling.maximum,
        )  # fmt: skip
        found[first : first + STATIONS_A_MODEL] = result["fault"]["i_f"][:, :, 0].T
    return found


def test_faults_at_eighty_thousand_buses_take_a_small_multiple_of_the_library(drawn, store, capsys, monkeypatch):
    solving = []

    def timed(*args, solver=solve.solve_networks):
        start = time.perf_counter()
        solution = solver(*args)
        solving.append(time.perf_counter() - start)
        return solution

    monkeypatch.setattr(solve, "solve_networks", timed)
    policy = load_policy()
    start = time.perf_counter()
    records, networks = network_study(store, policy)
    study = time.perf_counter() - start
    start = time.perf_counter()
    library = library_currents(drawn)
    alone = time.perf_counter() - start
    with capsys.disabled():
        print(
            f"\n{STATIONS * len(BUSES):,} buses: network study {study:.2f} s, of which solving {solving[0]:.2f} s; "
            f"power-grid-model {alone:.2f} s; ratio {study / alone:.2f}"
        )

    solution = networks.solution
    loop = sum(z["max"] for z in (solution.z1, solution.z2, solution.z0))
    currents = np.sqrt(3) * records.nominal_kv * 1e3 / np.abs(loop)
    order = records.bus["bus"].to_numpy(dtype=object).reshape(STATIONS, len(BUSES))
    assert (order == sorted(BUSES)).all()
    columns = [sorted(BUSES).index(bus) for bus in BUSES]
    own = currents.reshape(STATIONS, len(BUSES))[:, columns]
    # At the infeed's own bus, the first, the library leaves out part of the current: there the record tells it.
    declared = np.sqrt(3) * drawn.level_mva / 110.0 / (2 + drawn.z0_over_z1) * 1e3
    assert own[:, 0] == pytest.approx(declared, rel=1e-9)  # nothing comes through the deltas
    assert own[:, 1:] == pytest.approx(library[:, 1:] / FACTOR, rel=1e-4)
    assert study / alone < LIMIT
