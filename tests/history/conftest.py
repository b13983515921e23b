"""Audits that a store keeps, one after another."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

import groundcheck
from groundcheck.policy import load_policy, override_policy


@pytest.fixture(scope="session")
def audit_into() -> Callable[..., groundcheck.pipeline.Audit]:
    """audit_into(store, tables, current_margin): an audit that the store keeps."""

    def audit(store: Path, tables: dict[str, pd.DataFrame], **entries: Any) -> groundcheck.pipeline.Audit:
        own = {"neutral_device": entries} if entries else {}
        return groundcheck.audit(tables, store=store, policy=override_policy(load_policy(), own))

    return audit
