"""What ground relays see, and how long they take."""

import numpy as np
import pytest


def relay(**fields):
    return {"ground_relay": "R", "function": "51G", "measures": "NR2", "pickup": 80.0, "curve": "iec_very_inverse",
            "time_dial": 0.2, "breaker_time": 0.06, "action": "trip"} | fields  # fmt: skip


def operation(store, tag="R"):
    return store.frame("SELECT * FROM study.relay_operation").set_index("ground_relay").loc[tag]


def test_relay_in_a_neutral_sees_its_current_and_takes_the_time_of_its_curve(study, station):
    found = operation(study(station | {"ground_relay": [relay()]}))
    assert found.smallest_multiple == pytest.approx(found.smallest / 80)
    # IEC 60255-151, curve B: 13.5 TMS/(M - 1), recalled; plus the breaker.
    assert found.slowest_s == pytest.approx(13.5 * 0.2 / (found.smallest / 80 - 1))
    assert found.clearing_s == pytest.approx(found.slowest_s + 0.06)
    assert found.limited_by == "curve"


def test_tolerances_put_every_quantity_between_its_bounds(study, station):
    found = operation(study(station | {"ground_relay": [relay()]}))
    for name in ("smallest", "largest", "smallest_multiple", "slowest_s", "fastest_s", "clearing_s"):
        assert found[f"{name}_low"] < found[name] < found[f"{name}_high"]


@pytest.mark.parametrize("field", ["pickup", "curve", "time_dial", "breaker_time", "measures", "function"])
def test_a_blank_setting_only_widens_the_bounds(study, station, field):
    full = operation(study(station | {"ground_relay": [relay()]}))
    thin = operation(study(station | {"ground_relay": [relay(**{field: None})]}))
    assert thin.clearing_s_low <= full.clearing_s_low
    assert thin.clearing_s_high >= full.clearing_s_high
    if field != "function":
        assert np.isnan(thin.clearing_s)


@pytest.mark.parametrize("field", ["pickup", "curve", "time_dial", "breaker_time", "measures"])
def test_a_blank_setting_is_asked_for(study, station, field):
    store = study(station | {"ground_relay": [relay(**{field: None})]})
    asked = store.frame("SELECT field FROM study.blocked WHERE quantity = 'relay_operation.clearing_s'")
    assert field in set(asked.field)


def test_fault_through_resistance_is_weaker(study, station):
    # Derived: 6.6 kV over 9.5 ohm in the neutral and 10 ohm in the fault; the transformer adds a few per cent.
    solid = operation(study(station | {"ground_relay": [relay()]}))
    through = operation(study(station | {"ground_relay": [relay()]}, {"ground_relay": {"fault_resistance": 10.0}}))
    assert through.largest == pytest.approx(solid.largest)
    assert through.smallest == pytest.approx(6600 / np.sqrt(3) / 19.5, rel=0.01)
    assert through.smallest_low <= through.smallest <= through.smallest_high


def test_relay_above_the_fault_current_never_operates(study, station):
    found = operation(study(station | {"ground_relay": [relay(pickup=5000.0)]}))
    assert np.isinf(found.slowest_s)
    assert found.limited_by == "no_pickup"


def test_definite_time_and_slow_breaker_are_told_apart(study, station):
    definite = relay(curve="definite_time", definite_time=0.4)
    assert operation(study(station | {"ground_relay": [definite]})).limited_by == "definite_time"
    assert operation(study(station | {"ground_relay": [definite | {"breaker_time": 0.5}]})).limited_by == "breaker"


def test_instantaneous_relay_takes_a_typical_time_where_the_policy_admits_one(study, station):
    fast = {"ground_relay": [relay(function="50G", curve=None, time_dial=None)]}
    store = study(station | fast)
    assert operation(store).slowest_s == 0.05
    assert bool(operation(store).provisional) is True
    listed = store.frame("SELECT value FROM study.assumption WHERE field = 'definite_time'")
    assert list(listed.value) == ["0.05 s"]
    assert np.isnan(operation(study(station | fast, {"assume": {"instantaneous_time": False}})).slowest_s)


def test_alarm_has_no_clearing_time(study, station):
    found = operation(study(station | {"ground_relay": [relay(action="alarm")]}))
    assert not np.isnan(found.slowest_s)
    assert np.isnan(found.clearing_s_high)


def test_overvoltage_relay_sees_the_voltage_of_its_neutral(study, station):
    volts = relay(function="59N", pickup=400.0, curve="definite_time", definite_time=1.0)
    store = study(station | {"ground_relay": [volts]})
    found = operation(store)
    duty = store.frame("SELECT voltage_kv FROM study.neutral_duty WHERE neutral_device = 'NR2'").voltage_kv[0]
    assert found.quantity_kind == "voltage"
    assert found.largest == pytest.approx(duty * 1e3)
    assert found.slowest_s == 1.0


def test_overvoltage_relay_at_a_bus_sees_three_times_v0(study, station):
    # Derived: without any path to ground 3V0 is three times the line-to-neutral voltage.
    station["neutral_device"][2] = {"neutral_device": "N", "connected_to": "T2", "winding": "lv", "kind": "open"}
    volts = relay(function="59G", measures="L", pickup=2000.0, curve="definite_time", definite_time=1.0)
    assert operation(study(station | {"ground_relay": [volts]})).largest == pytest.approx(3 * 6600 / np.sqrt(3))


def test_solid_link_leaves_no_voltage_at_its_neutral(study, station):
    volts = relay(function="59N", measures="LINK", pickup=400.0, curve="definite_time", definite_time=1.0)
    found = operation(study(station | {"ground_relay": [volts]}))
    assert found.largest == 0
    assert found.limited_by == "no_pickup"


def test_third_harmonic_relay_is_not_asked(study, station):
    found = operation(study(station | {"ground_relay": [relay(function="27TN")]}))
    assert np.isnan(found.smallest_high)
    assert found.limited_by is None
