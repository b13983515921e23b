"""
A published register goes through with the map that is proposed for it.

Source: National Grid Electricity Distribution, Long Term Development Statement, tables 2a and 2b, open data: 2,705
two-winding and 69 three-winding transformers. Name the folder that holds them as transformers_two_winding.csv and
transformers_three_winding.csv in GROUNDCHECK_REAL_REGISTER.
"""

import os
from pathlib import Path

import pytest

from groundcheck.ingest import propose_columns

FOLDER = os.environ.get("GROUNDCHECK_REAL_REGISTER", "")
pytestmark = pytest.mark.skipif(not FOLDER, reason="GROUNDCHECK_REAL_REGISTER names no folder")


def test_the_whole_register_is_accounted_for_with_the_proposed_map(read, tmp_path):
    path = tmp_path / "proposed.toml"
    path.write_text(propose_columns(Path(FOLDER)))
    assert sum(bool(line.strip()) and not line.startswith("#") for line in path.read_text().splitlines()) <= 20
    store = read(Path(FOLDER), columns=path)
    used, waiting, headings = store.sql(
        "SELECT sum(rows_used), sum(rows_quarantined), sum(heading_rows) FROM raw.account"
    ).fetchall()[0]
    assert (used + waiting, headings) == (2774, 2)
    # Counted in the published tables: 201 rows have the status Removed, two have a rating of 0.
    assert store.sql("SELECT count(*) FROM inventory.out_of_service").fetchall()[0] == (201,)
    assert store.sql("SELECT reason, found, count(*) FROM raw.quarantine GROUP BY ALL").fetchall() == [
        ("outside_limits", "0", 2)
    ]
    assert store.sql("SELECT count(*) FROM inventory.reference WHERE target IS NULL").fetchall()[0] == (0,)
