"""Grounding class of zones."""

import numpy as np
import pytest

from groundcheck.engineering import classify_zone, is_effective

NOTHING = {
    "cog_max": 1.0,
    "has_solid": False,
    "has_reactor": False,
    "has_resistor": False,
    "has_coil": False,
    "resistive_current_a": np.nan,
    "high_resistance_limit_a": 10,
    "source_known": True,
}


# IEEE Std C62.92.1 (recalled): the names of the classes and COG of 0.8 or less as effective.
@pytest.mark.parametrize(
    ("zone", "expected"),
    [
        ({}, "ungrounded"),
        ({"source_known": False}, None),
        ({"source_known": False, "has_solid": True, "cog_max": 0.7}, None),
        ({"has_solid": True, "cog_max": 0.7}, "effective"),
        ({"has_solid": True, "cog_max": 0.8}, "effective"),
        ({"has_solid": True, "cog_max": 0.81}, "solid_not_effective"),
        ({"has_solid": True, "cog_max": np.nan}, "solid"),
        ({"has_solid": True, "has_resistor": True, "resistive_current_a": 5}, "solid_not_effective"),
        ({"has_reactor": True, "cog_max": 0.75}, "effective"),
        ({"has_reactor": True, "cog_max": 0.9}, "reactance"),
        ({"has_reactor": True, "cog_max": np.nan}, "reactance"),
        ({"has_reactor": True, "has_resistor": True, "resistive_current_a": 5}, "reactance"),
        ({"has_resistor": True, "resistive_current_a": 5}, "high_resistance"),
        ({"has_resistor": True, "resistive_current_a": 10}, "high_resistance"),
        ({"has_resistor": True, "resistive_current_a": 400}, "low_resistance"),
        ({"has_resistor": True}, "resistance"),
        ({"has_resistor": True, "resistive_current_a": 400, "cog_max": 0.79}, "effective"),
        ({"has_coil": True}, "resonant"),
        ({"has_coil": True, "cog_max": 0.5}, "resonant"),
        ({"has_coil": True, "has_resistor": True, "resistive_current_a": 400}, "low_resistance"),
        ({"cog_max": 0.5}, "ungrounded"),
    ],
)
def test_class_of_a_zone(zone, expected):
    assert classify_zone(**NOTHING | zone).item() == expected


def test_a_fleet_is_classified_at_once():
    zones = NOTHING | {"has_solid": [True, False], "has_resistor": [False, True], "resistive_current_a": [np.nan, 300]}
    assert classify_zone(**zones).tolist() == ["solid_not_effective", "low_resistance"]


def test_limit_of_effective_grounding_can_be_moved():
    assert (
        classify_zone(**NOTHING | {"has_solid": True, "cog_max": 0.75}, cog_limit=0.7).item() == "solid_not_effective"
    )


def test_effective_is_true_false_or_not_on_record():
    assert is_effective([0.79, 0.8, 0.81, np.nan]).tolist() == [True, True, False, None]
    assert is_effective(0.75, limit=0.7).item() is False


def test_limit_must_be_positive():
    with pytest.raises(ValueError, match=r"^limit \(0 degrees\) must be positive$|^limit \(0\) must be positive$"):
        is_effective(0.5, limit=0)
    with pytest.raises(ValueError, match=r"^cog_limit \(-1\) must be positive$"):
        classify_zone(**NOTHING, cog_limit=-1)


def test_negative_current_is_refused():
    message = r"^resistive_current_a and high_resistance_limit_a must not be negative$"
    with pytest.raises(ValueError, match=message):
        classify_zone(**NOTHING | {"resistive_current_a": -1})
