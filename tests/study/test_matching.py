"""Rows that belong together are those that a join of two tables gives, in its order."""

import numpy as np
import pandas as pd
from hypothesis import given, settings
from hypothesis import strategies as st

from groundcheck.study.matching import first_of_each, matches

NUMBERS = st.lists(st.integers(-1, 5), max_size=8).map(lambda numbers: np.array(numbers, dtype=np.int64))


@settings(max_examples=50, deadline=None)
@given(left=NUMBERS, right=NUMBERS)
def test_matches_are_the_pairs_of_a_join(left, right):
    ours, theirs = (
        pd.DataFrame({"number": each, place: range(each.size)}) for each, place in ((left, "l"), (right, "r"))
    )
    joined = ours.merge(theirs, on="number")
    here, there = matches(left, right)
    assert here.tolist() == joined["l"].tolist()
    assert there.tolist() == joined["r"].tolist()


@settings(max_examples=50, deadline=None)
@given(numbers=NUMBERS)
def test_each_number_is_kept_where_it_stands_first(numbers):
    assert numbers[first_of_each(numbers)].tolist() == list(dict.fromkeys(numbers.tolist()))
