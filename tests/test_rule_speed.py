"""All rules over a fleet take less time than five times reading its inventory from Parquet, in one run."""

import os
import time
from itertools import cycle

import numpy as np
import pandas as pd
from generated_fleet.campaign import Campaign
from generated_fleet.stations import KINDS, sound_station

from groundcheck.audit import load_rulebooks, run_rules
from groundcheck.ingest import ingest
from groundcheck.policy import load_policy
from groundcheck.store import Store
from groundcheck.study import run_study

STATIONS = int(os.environ.get("GROUNDCHECK_STATIONS", "500"))
MULTIPLE = 5.0


def test_all_rules_take_less_than_five_times_reading_the_inventory_from_parquet(tmp_path, capsys):
    fleet = Campaign()
    for number, kind in zip(range(STATIONS), cycle(KINDS), strict=False):
        code = f"ST{number:05}"
        fleet.add(code, kind, sound_station(kind, code, np.random.default_rng([7, number])), None)
    for table, frame in fleet.frames().items():
        texts = frame.map(lambda value: "; ".join(value) if isinstance(value, list) else value)
        texts.to_parquet(tmp_path / f"{table}.parquet")
    rulebook, policy = load_rulebooks(), load_policy()
    with Store() as store:
        started = time.perf_counter()
        ingest(store, [tmp_path])
        read = time.perf_counter()
        run_study(store, policy)
        studied = time.perf_counter()
        run_rules(store, rulebook, policy)
        ruled = time.perf_counter()
        stations = store.sql("SELECT count(*) FROM inventory.substation").fetchall()[0][0]
        answers = store.sql("SELECT count(*) FROM audit.result").fetchall()[0][0]
    reading, rules = read - started, ruled - studied
    bare = bare_reading(tmp_path)
    with capsys.disabled():
        print(
            f"\n{stations:,} stations: inventory read from Parquet in {reading:.1f} s (the bare files {bare:.2f} s), "
            f"studied in {studied - read:.1f} s, {len(rulebook.rules)} rules and {answers:,} answers in {rules:.1f} s, "
            f"{rules / reading:.2f} times the reading"
        )
    assert stations >= STATIONS
    assert rules < MULTIPLE * reading


def bare_reading(folder):
    """Seconds in which pandas reads the files, for comparison."""
    started = time.perf_counter()
    for file in sorted(folder.glob("*.parquet")):
        pd.read_parquet(file)
    return time.perf_counter() - started
