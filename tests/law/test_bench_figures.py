"""What the tables of bench/ rest on: the interval, ties in a ranking, and the naive rule."""

import sys
from math import isclose, sqrt
from pathlib import Path

import pytest
from msgspec.structs import replace

sys.path.insert(0, str(Path(__file__).parents[2]))

from bench.intervals import Z95, wilson
from bench.naive import everything_agrees
from bench.ranking import chance_within
from shop.outside import all_outside


@pytest.mark.parametrize(("hits", "trials"), [(0, 10), (1, 10), (5, 10), (10, 10), (3, 400), (199, 200)])
def test_the_ends_of_the_interval_are_just_z_standard_errors_from_the_share(hits: int, trials: int) -> None:
    """The defining property (Wilson 1927), which the closed formula is derived from."""
    share = hits / trials
    low, high = wilson(hits, trials)
    assert 0 <= low <= share + 1e-12
    assert share - 1e-12 <= high <= 1
    for end in (low, high):
        if 1e-12 < end < 1 - 1e-12:
            assert isclose(abs(share - end), Z95 * sqrt(end * (1 - end) / trials), rel_tol=1e-9)


def test_the_interval_is_the_same_seen_from_the_other_side() -> None:
    low, high = wilson(3, 40)
    other_low, other_high = wilson(37, 40)
    assert isclose(low, 1 - other_high)
    assert isclose(high, 1 - other_low)


def test_ties_in_a_ranking_share_their_places_by_chance() -> None:
    first, tied = (0.0,), (1.0,)
    listed = [(first, False), (tied, True), (tied, False), (tied, False), ((2.0,), True)]
    assert chance_within(listed, 1) == 0
    assert isclose(chance_within(listed, 2), 1 / 3)
    assert isclose(chance_within(listed, 3), 2 / 3)
    assert chance_within(listed, 4) == 1
    assert chance_within([(first, False)], 3) == 0


def test_the_naive_rule_clears_what_agrees_and_nothing_else() -> None:
    scenes = {scene.name: scene.evidence for scene in all_outside()}
    agreeing = scenes["the wrong joint walked"]
    assert everything_agrees(agreeing)
    assert not everything_agrees(replace(agreeing, rounds=()))
    assert not everything_agrees(replace(agreeing, counts=()))
    seen_in = replace(agreeing.looks[-1], saw="in")
    assert not everything_agrees(replace(agreeing, looks=(*agreeing.looks, seen_in)))
    assert not everything_agrees(scenes["sizes swapped, counts unequal"])
    assert not everything_agrees(scenes["no evidence at all"])
