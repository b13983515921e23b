"""Vector groups read to the notation of IEC 60076-1."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.ingest.values import read_cell
from groundcheck.schema import Column

GROUP = Column("vector_group", "vector_group", "")
EXPECTED = "a vector group of IEC 60076-1, such as YNd11, Dyn1 or YNyn0d11"


# Notation: IEC 60076-1, clause on connection symbols (recalled).
@pytest.mark.parametrize(
    ("text", "group"),
    [
        *((text, "YNd11") for text in ("YNd11", "yn d 11", "yn D 11", "YN/d-11", "YND11", "YN-d11", "Yg/D 11")),
        *((text, "Dyn11") for text in ("DYN11", "Dyn11", "DYn-11", "Dyn 11", "D/yn 11", "Δ/yn11")),
        *((text, "Dyn") for text in ("Dyn", "delta-wye grounded", "delta/star earthed", "delta - grounded wye")),
        *((text, "Yd") for text in ("Y-D", "Star/Delta", "wye - delta", "YΔ", "ungrounded wye - delta")),
        *((text, "YNd") for text in ("grounded wye-delta", "wye-grounded-delta", "star (earthed) / delta")),
        *((text, "Yy0") for text in ("Yy0", "YY0", "Yy12", "Y y 00")),
        ("Ynd1", "YNd1"),
        ("Dyn01", "Dyn1"),
        ("YNyn0d11", "YNyn0d11"),
        ("YNyn0+d", "YNyn0d"),
        ("YNa0d11", "YNa0d11"),
        ("YNautod1", "YNautod1"),
        ("Dd0", "Dd0"),
        ("Yzn5", "Yzn5"),
        ("Dzn0", "Dzn0"),
        ("YNd1d1", "YNd1d1"),
        ("YNyn0yn0", "YNyn0yn0"),
        ("Y/YN", "Yyn"),
        ("YN/Y", "YNy"),
        ("delta / zig-zag earthed", "Dzn"),
        ("delta wye grounded 1", "Dyn1"),
        ("wye grounded - wye grounded - delta", "YNynd"),
    ],
)
def test_one_notation(text, group):
    reading = read_cell(text, GROUP)
    assert reading[:2] == (group, None)


@pytest.mark.parametrize(
    "text",
    [
        "Dny",
        "XYZ",
        "Y/Z/Q",
        "Dyn13",
        "Dyn111",
        "D",
        "delta",
        "wye grounded wye",
        "Dyn11 or Dyn1",
        "delta-delta earthed",
        11,
    ],
)
def test_what_is_no_vector_group(text):
    assert read_cell(text, GROUP).problem == ("unreadable", EXPECTED)


def test_a_capital_that_is_not_first_is_noted():
    note = "a capital letter is not the first: read in the order written"
    assert read_cell("dYN11", GROUP) == ("Dyn11", None, note, None, None)


WINDINGS = ("Y", "YN", "D", "Z", "ZN")
GROUPS = [
    hv + lv.lower() + clock + tv
    for hv, lv, clock, tv in itertools.product(WINDINGS, WINDINGS, ("", "0", "1", "5", "11"), ("", "d", "d1", "yn0"))
]


@given(group=st.sampled_from(GROUPS), upper=st.booleans(), separator=st.sampled_from(["", "-", "/", " "]))
def test_case_and_separators_change_nothing(group, upper, separator):
    hv = group[:2] if group[1] == "N" else group[:1]
    text = hv + separator + group[len(hv) :]
    assert read_cell(text.upper() if upper else text, GROUP).value == group
