"""Shapes: what readings tell, and that moving the dial's zero changes nothing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastbolt.measuring.shapes import BoreReadings, crush_strip, end_float, runout


def test_bore() -> None:
    bore = BoreReadings(((80.02, 80.05), (80.01, 80.02), (80.00, 80.01)), new=80.0)
    told = (bore.taper, bore.ovality, bore.largest_wear)
    assert told == pytest.approx((0.04, 0.03, 0.05))


@given(st.lists(st.integers(-50, 50), min_size=2), st.integers(-100, 100))
def test_zero_of_the_dial_does_not_matter(readings: list[int], zero: int) -> None:
    assert runout([one + zero for one in readings]) == runout(readings) >= 0


def test_float_and_strip() -> None:
    assert end_float([(0.0, 0.12), (0.02, 0.12)]) == pytest.approx(0.11)
    assert crush_strip(1.5, [(2.0, 0.03), (1.0, 0.05)]) == pytest.approx(0.04)
    assert crush_strip(3.0, [(2.0, 0.03), (1.0, 0.05)]) is None
