"""A register with blank cells, and answers to a data request about it in the form that the report writes."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

HEADS = ["station", "kind of asset", "asset", "field", "value", "unit", "source of the value", "checks waiting"]
BUSES = [["Station", "Bus", "Nominal voltage (kV)"], ["ASH", "B33", 33], ["ASH", "B11", None], ["ELM", "B11", 11]]
DEVICES = [
    ["Station", "Neutral device", "Connected to", "Winding", "Kind", "Resistance (ohm)", "Rated current (A)"],
    ["ASH", "NER1", "T1", "LV", "resistor", 6.35, None],
    ["ELM", "NER1", "T1", "LV", "resistor", None, 400],
]
TRANSFORMERS = [
    ["Station", "Transformer", "HV bus", "LV bus", "MVA", "HV kV", "LV kV", "Vector group", "LV neutral"],
    ["ASH", "T1", "B33", "B11", 20, 33, 11, "Dyn11", None],
    ["ELM", "T1", "B33", "B11", 20, 33, 11, "Dyn11", None],
]


@pytest.fixture
def register(book: Callable[..., Path]) -> Path:
    return book({"Buses": BUSES, "Neutral devices": DEVICES, "Transformers": TRANSFORMERS})


@pytest.fixture
def answers(book: Callable[..., Path]) -> Callable[..., Path]:
    """A data request with the rows given, each as station, kind, asset, field, value and unit."""

    def write(*rows: list[Any], name: str = "answers.xlsx", heads: list[str] = HEADS) -> Path:
        return book({"North": [heads, *rows]}, name=name)

    return write
