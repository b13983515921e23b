"""Return through shield wires and ground."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import earth_return_ohm_per_km, reduction_factor


# Carson's earth resistance: 0.0493 ohm/km at 50 Hz and 0.0592 ohm/km (0.0953 ohm/mile) at 60 Hz, in every textbook of
# line constants (Kundur; Anderson; recalled).
@pytest.mark.parametrize(("frequency", "ohm"), [(50.0, 0.0493), (60.0, 0.0592)])
def test_the_ground_has_the_resistance_of_carson(frequency, ohm):
    assert earth_return_ohm_per_km(10.0, 100.0, frequency).real == pytest.approx(ohm, abs=5e-5)


def test_current_returns_at_the_depth_of_the_standard():
    # IEC 60909-3 (recalled): 931 m at 50 Hz in 100 ohm m. At that distance the wires have no mutual reactance.
    assert earth_return_ohm_per_km(931.0, 100.0, 50.0).imag == pytest.approx(0.0, abs=5e-5)


def test_a_wire_of_no_loss_on_the_phase_conductor_takes_everything():
    z = earth_return_ohm_per_km(0.01, 100.0, 50.0)
    assert abs(reduction_factor(z, z)) < 1e-15
    assert reduction_factor(z, np.inf) == 1


def test_a_steel_wire_takes_little_and_an_aluminum_one_much():
    # EN 50522, annex I (recalled): about 0.97 to 0.98 for 50 to 70 mm2 of steel, 0.6 to 0.8 for aluminum-steel wires.
    mutual = earth_return_ohm_per_km(8.0, 100.0, 50.0)
    steel = 3.0 + 1.0j + earth_return_ohm_per_km(0.0055, 100.0, 50.0)  # 3 ohm/km, and what the field in steel adds
    aluminum = 0.30 + earth_return_ohm_per_km(0.008, 100.0, 50.0)
    assert abs(reduction_factor(mutual, steel)) == pytest.approx(0.97, abs=0.03)
    assert 0.55 < abs(reduction_factor(mutual, aluminum)) < 0.8


@given(ohm=st.floats(0.05, 5), more=st.floats(1, 10))
def test_a_poorer_wire_never_relieves_the_ground_more(ohm, more):
    mutual, outer = earth_return_ohm_per_km(8.0, 100.0, 50.0), earth_return_ohm_per_km(0.008, 100.0, 50.0)
    first, second = (abs(reduction_factor(mutual, r + outer)) for r in (ohm, ohm * more))
    assert second >= first * (1 - 1e-9)


def test_a_distance_of_zero_is_refused():
    with pytest.raises(ValueError, match=r"^distance_m, soil_ohm_m and frequency_hz must be positive$"):
        earth_return_ohm_per_km(0.0, 100.0, 50.0)
