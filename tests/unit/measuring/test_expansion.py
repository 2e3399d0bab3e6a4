"""Warmth: a sum done by hand, there and back again, and what is not known."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastbolt.measuring.expansion import (
    coefficient,
    coefficient_range,
    growth,
    heating_for_interference_K,
    length_at_20_C,
)


def test_by_hand() -> None:
    known = coefficient("Aluminum")
    assert known is not None
    assert growth(80.0, known[0], 20.0) == pytest.approx(0.037, abs=5e-4)
    assert heating_for_interference_K(0.05, 50.0, 12e-6, 0.01) == pytest.approx(100.0)
    assert heating_for_interference_K(-0.05, 50.0, 12e-6) == 0


@given(st.floats(1, 500), st.floats(-20, 150))
def test_there_and_back(length: float, warmth: float) -> None:
    steel = coefficient("steel")
    assert steel is not None
    at_20 = length_at_20_C(length, "steel", warmth)
    assert at_20 + growth(at_20, steel[0], warmth - 20) == pytest.approx(length)
    assert (at_20 <= length) == (warmth >= 20) or at_20 == pytest.approx(length)


def test_unknown_and_spread() -> None:
    assert coefficient("cheese") is coefficient_range("cheese") is None
    low, high = coefficient_range("grey iron") or (0.0, 0.0)
    assert low < high
    with pytest.raises(ValueError, match="cheese"):
        length_at_20_C(10.0, "cheese", 30.0)
    with pytest.raises(ValueError, match="grow"):
        growth(float("nan"), 1e-5, 1.0)
