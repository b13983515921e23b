"""Where a blank hides something that no corner of the networks shows, the bounds still hold every completion."""

import numpy as np
import pytest

NO_GUESSES = {"assume": {"any": False}}


def within(thin, whole, name):
    """Whether what was known with more on record lies in the bounds with less."""
    ends = [whole[f"{name}_low"], whole[f"{name}_high"]]
    return thin[f"{name}_low"] <= min(ends) * (1 + 1e-9) and thin[f"{name}_high"] >= max(ends) * (1 - 1e-9)


def row(store, table, tag, name):
    frame = store.frame(f"SELECT * FROM study.{table}")
    frame = frame[frame["condition"] == "max"] if "condition" in frame else frame
    return frame.set_index(tag).loc[name]


@pytest.fixture
def tertiary(station):
    """A second transformer between H and M, with a machine on its tertiary."""
    station["bus"].append({"bus": "T", "nominal_voltage": 11.0})
    station["transformer"].append(
        {"transformer": "T9", "hv_bus": "H", "lv_bus": "M", "tv_bus": "T", "rated_power": 60.0, "hv_voltage": 110.0,
         "lv_voltage": 20.0, "tv_voltage": 11.0, "vector_group": "Yd11d11", "impedance": 10.0, "hv_tv_impedance": 12.0,
         "lv_tv_impedance": 7.0, "x_over_r": 25.0, "core_form": "shell"}
    )  # fmt: skip
    station["generator"] = [
        {"generator": "G", "bus": "T", "rated_power": 50.0, "rated_voltage": 11.0, "xd_subtransient": 0.15, "x2": 0.15,
         "x0": 0.05, "r": 0.002, "winding": "delta"}
    ]  # fmt: skip
    return station


@pytest.mark.parametrize("pair", ["hv_tv_impedance", "lv_tv_impedance"])
def test_machine_on_a_tertiary_of_unknown_impedance_may_feed_the_other_windings(study, tertiary, pair):
    whole = row(study(tertiary, NO_GUESSES), "bus_fault", "bus", "H")
    del tertiary["transformer"][-1][pair]
    store = study(tertiary, NO_GUESSES)
    thin = row(store, "bus_fault", "bus", "H")
    assert np.isnan(thin["three_phase_ka"])
    for name in ("three_phase_ka", "line_to_ground_ka", "healthy_phase_kv"):
        assert within(thin, whole, name), name
    asked = store.frame("SELECT * FROM study.blocked WHERE asset = 'H' AND quantity = 'bus_fault.three_phase_ka'")
    assert ("T9", pair) in set(zip(asked["blocking_asset"], asked["field"], strict=True))


def test_tertiary_of_unknown_impedance_with_nothing_behind_leaves_the_others_known(study, tertiary):
    del tertiary["generator"]
    whole = row(study(tertiary, NO_GUESSES), "bus_fault", "bus", "H")
    del tertiary["transformer"][-1]["lv_tv_impedance"]
    assert row(study(tertiary, NO_GUESSES), "bus_fault", "bus", "H")["three_phase_ka"] == pytest.approx(
        whole["three_phase_ka"]
    )


def test_machine_may_feed_through_two_tertiaries_of_unknown_impedance(study, tertiary):
    second = tertiary["transformer"][-1]
    tertiary["bus"] += [{"bus": "H2", "nominal_voltage": 110.0}, {"bus": "M2", "nominal_voltage": 20.0}]
    tertiary["transformer"].append(second | {"transformer": "T10", "hv_bus": "H2", "lv_bus": "M2"})
    tertiary["generator"][0] |= {"bus": "M2", "rated_voltage": 20.0}
    whole = row(study(tertiary, NO_GUESSES), "bus_fault", "bus", "H")
    tertiary["transformer"][-2:] = [{**t, "lv_tv_impedance": None} for t in tertiary["transformer"][-2:]]
    assert within(row(study(tertiary, NO_GUESSES), "bus_fault", "bus", "H"), whole, "three_phase_ka")


def test_one_of_two_devices_in_a_neutral_may_be_small_and_the_other_large(study, station):
    """Two resistors in one neutral of which neither's ohms are on record share the current in any way."""
    first = next(d for d in station["neutral_device"] if d["kind"] == "resistor")
    first |= {"resistance": 2.0}
    station["neutral_device"].append(first | {"neutral_device": "BESIDE", "resistance": 2000.0})
    whole = study(station, NO_GUESSES)
    names = (first["neutral_device"], "BESIDE")
    known = {name: row(whole, "neutral_duty", "neutral_device", name) for name in names}
    first.pop("resistance"), station["neutral_device"][-1].pop("resistance")
    store = study(station, NO_GUESSES)
    for name in names:
        assert within(row(store, "neutral_duty", "neutral_device", name), known[name], "current_a"), name
