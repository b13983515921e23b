"""Units as the trade writes them."""

import pytest

from groundcheck.ingest.values import known_unit, read_cell
from groundcheck.schema import Column


# Common practice, no source.
@pytest.mark.parametrize(
    ("unit", "spellings"),
    [
        ("kV", "KV Kv kv. kvolts kVrms kV_L-L kV_rms"),
        ("kVA", "KVA kva k.V.A."),
        ("MVA", "mva M.V.A. Mva"),
        ("A", "amps. Amp. A_rms AMPS"),
        ("kA", "KA ka kA_rms_sym kA_(rms)"),
        ("ohm", "Ohms. Ω \u2126 OHM ohm/phase Ω/ph"),
        ("ohm m", "Ohm·m Ω-m Ω.m Ωm ohm-metre ohm_m ohm-meter"),
        ("mm2", "sqmm mm² sq.mm. sq_mm mm^2"),
        ("uF", "micro-F µF μF uF MFD"),
        ("pF", "pF"),
        ("degC", "°C deg_C"),
        ("pu", "p.u. pu PU per_unit pu_on_rating"),
        ("%", "% per_cent pct"),
        ("s", "sec. secs S seconds"),
        ("cycles", "cycles cyc."),
    ],
)
def test_one_unit_in_many_spellings(unit, spellings):
    assert {known_unit(spelling.replace("_", " ")) for spelling in spellings.split()} == {unit}


@pytest.mark.parametrize("text", ["MA", "Ma", "MOHM", "PF", "pf", "mF", "K", "k", "", "x", "kV L-N", "A dc"])
def test_what_could_be_two_things_is_no_unit(text):
    assert known_unit(text) is None


def test_circular_mils_are_a_thousandth_of_the_thousand():
    size = Column("conductor_size", "size", "", unit="mm2", gt=0)
    # 4/0 AWG is 211 600 circular mils: ASTM B258 (recalled).
    assert read_cell("211600 cmil", size).value == pytest.approx(read_cell("4/0 AWG", size).value, rel=1e-5)
