"""Valves: the fewest new parts by trying every way, and shims that are moved first."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastbolt.selecting.shims import Limits, Shim
from lastbolt.selecting.valves import matrix

VALVES = st.lists(st.tuples(st.integers(0, 8), st.integers(20, 26)), min_size=1, max_size=4)
STOCK = st.lists(st.tuples(st.integers(20, 30), st.sampled_from([0, 1, 2, None])), max_size=3)


@given(VALVES, STOCK)
def test_fewest_by_trying_all(valves: list[tuple[int, int]], stock: list[tuple[int, int | None]]) -> None:
    counts: list[int | None] = [*[1] * len(valves), *(count for _, count in stock)]
    sizes = [*(shim for _, shim in valves), *(size for size, _ in stock)]
    best = (99, 99)
    for picks in product([-1, *range(len(sizes))], repeat=len(valves)):
        if any(c is not None and picks.count(n) > c for n, c in enumerate(counts)):
            continue
        after = [sum(valve) - sizes[n] for valve, n in zip(valves, picks, strict=True) if n >= 0]
        if all(3 <= lash <= 4 for lash in after):
            best = min(best, (picks.count(-1), sum(n >= len(valves) for n in picks)))
    found = matrix(
        {str(n): lash / 20 for n, (lash, _) in enumerate(valves)},
        {str(n): shim / 20 for n, (_, shim) in enumerate(valves)},
        Limits(3 / 20, 4 / 20),
        [Shim(f"s{n}", size / 20, count) for n, (size, count) in enumerate(stock)],
    )
    assert (len(found.unmet), found.new_parts) == best


def test_moved_first() -> None:
    found = matrix(
        {"a": 0.30, "b": 0.10}, {"a": 2.0, "b": 2.1}, Limits(0.15, 0.25), [Shim("any", 2.1, None)], 0.01
    )
    assert [one.from_ for one in found.valves] == ["moved", "moved"]
    assert [one.lash_after_mm for one in found.valves] == pytest.approx([0.2, 0.2])
    assert matrix({}, {}, Limits(0.1, 0.2), []).new_parts == 0
    with pytest.raises(ValueError, match="every valve"):
        matrix({"a": 0.1}, {}, Limits(0.1, 0.2), [])
