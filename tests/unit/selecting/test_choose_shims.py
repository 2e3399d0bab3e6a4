"""Shims: best by trying everything, both ways of counting, and what cannot be chosen from."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastbolt.selecting.shims import Convention, Limits, Shim, choose, pinion, thickness_wanted

ADD, TAKE = Convention("a plus mark wants more", 1), Convention("a plus mark wants less", -1)
STOCK = st.lists(st.integers(2, 40), max_size=6)


@given(STOCK, st.integers(10, 120), st.integers(0, 10), st.integers(0, 10))
def test_best_of_all_packs(sizes: list[int], gap: int, low: int, wide: int) -> None:
    stock = [Shim(f"s{n}", size / 20) for n, size in enumerate(sizes)]
    good = [
        (len(pack), abs(2 * (gap - sum(pack)) - (2 * low + wide)))
        for count in range(4)
        for pack in combinations(sizes, count)
        if low <= gap - sum(pack) <= low + wide
    ]
    found = choose(gap / 20, Limits(low / 20, (low + wide) / 20), stock, uncertainty=0.01)
    assert len(found) == len(good)
    if good:
        assert len(found[0].shims) == min(good)[0]
        assert abs(found[0].left_mm - (2 * low + wide) / 40) * 40 == pytest.approx(min(good)[1], abs=1e-6)


def test_uncertainty_of_every_shim_counts() -> None:
    (pack,) = choose(1.0, Limits(0.0, 0.1), [Shim("half", 0.475, 2, 0.003)], uncertainty=0.004)
    assert pack.uncertainty_mm == pytest.approx((16 + 2 * 9) ** 0.5 / 1000)
    assert pack.probability is not None
    assert 0.99 < pack.probability <= 1
    assert choose(1.0, Limits(0.0, 0.1), [Shim("half", 0.475, 1)]) == ()


def test_both_ways_of_counting() -> None:
    assert pinion(1.5, 0.0, -0.05, 0.05, ADD) == pytest.approx(1.6)
    assert pinion(1.5, 0.02, -0.05, 0.05, TAKE) == pytest.approx(1.38)
    wanted = thickness_wanted(0.2, Limits(0.5, 0.7), ADD)
    assert (wanted.low, wanted.high) == pytest.approx((0.3, 0.5))
    (one,) = choose(0.2, Limits(0.5, 0.7), [Shim("a", 0.4), Shim("b", 0.1)], most=1, convention=ADD)
    assert one.left_mm == pytest.approx(0.6)


@pytest.mark.parametrize("factor", [0.0, 2.0])
def test_a_way_of_counting_is_plus_or_minus_one(factor: float) -> None:
    with pytest.raises(ValueError, match="counts"):
        pinion(1.0, 0.0, 0.0, 0.1, Convention("odd", factor))
    with pytest.raises(ValueError, match="no such shim"):
        choose(1.0, Limits(0.0, 0.1), [Shim("thin air", 0.0)])
