"""Each length in its hole: against brute force, and against what a wrong one does."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastbolt.refitting.lengths import fit, place_lengths, unequal
from lastbolt.words.lengths import Boss, Pieces, Proud

DEEP = Boss("p1", "M8", grip_mm=30, thread_mm=20, needed_mm=14)


@pytest.mark.parametrize(
    ("length", "says"), [(40, "short"), (44, "good"), (50, "good"), (51, "bottoms"), (70, "bottoms")]
)
def test_how_a_length_stands_in_a_blind_hole(length: float, says: str) -> None:
    assert fit(DEEP, "M8", length).says == says


def test_a_through_hole_lets_no_screw_bottom() -> None:
    through = Boss("p1", "M8", grip_mm=30, thread_mm=20, blind=False, needed_mm=14)
    assert fit(through, "M8", 70).says == "good"
    assert fit(through, "M6", 50).says == "other thread"


def test_two_lengths_that_could_be_swapped_go_where_each_fits() -> None:
    short = Boss("p1", "M8", grip_mm=25, thread_mm=20, needed_mm=14, said_mm=45)
    long = Boss("p2", "M8", grip_mm=55, thread_mm=20, needed_mm=14, said_mm=70)
    found = place_lengths([long, short], [Pieces("M8", 45, 1), Pieces("M8", 70, 1)])
    assert [(one.place, one.length_mm) for one in found.placed] == [("p2", 70), ("p1", 45)]
    assert all(one.as_said for one in found.placed)
    assert found.over == ()
    assert "45 mm: 20 mm of thread, 14 needed, 0 mm free below, as the source says" in found.placed[1].why


def test_the_source_is_followed_where_two_lengths_would_do() -> None:
    said = Boss("p1", "M8", grip_mm=30, thread_mm=25, needed_mm=14, said_mm=50)
    (found,) = place_lengths([said], [Pieces("M8", 45, 1), Pieces("M8", 50, 1)]).placed
    assert (found.length_mm, found.others_mm) == (50, (45,))


def test_a_length_that_bottoms_is_not_placed_even_if_the_source_says_so() -> None:
    misprint = Boss("p1", "M8", grip_mm=30, thread_mm=10, needed_mm=8, said_mm=50)
    (found,) = place_lengths([misprint], [Pieces("M8", 50, 1)]).placed
    assert found.length_mm is None
    assert "50 mm (bottoms)" in found.why
    (other,) = place_lengths([misprint], [Pieces("M8", 50, 1), Pieces("M8", 40, 1)]).placed
    assert (other.length_mm, other.as_said) == (40, False)
    assert "the source says 50" in other.why


def test_what_was_not_measured_follows_the_source_alone() -> None:
    (found,) = place_lengths(
        [Boss("p1", "M8", said_mm=45)], [Pieces("M8", 45, 1), Pieces("M8", 50, 1)]
    ).placed
    assert found.length_mm == 45
    assert "not measured" in found.why


def test_pieces_that_are_over_are_told() -> None:
    found = place_lengths([DEEP], [Pieces("M8", 45, 3), Pieces("M6", 20, 1)])
    assert found.over == (Pieces("M6", 20, 1), Pieces("M8", 45, 2))


def test_a_swapped_pair_is_seen_from_how_far_the_heads_stand_proud() -> None:
    heads = [Proud("1", 12.0), Proud("2", 12.4), Proud("3", 17.0), Proud("4", 11.8), Proud("5", 7.1)]
    (found,) = unequal(heads)
    assert found.swapped
    assert found.places == ("3", "5")
    assert unequal(heads[:2]) == ()
    (alone,) = unequal(heads[:4])
    assert (alone.places, alone.swapped) == (("3",), False)


BOSSES = st.lists(
    st.builds(
        Boss, st.sampled_from("abcdefgh"), st.sampled_from(["M6", "M8"]), st.integers(10, 40),
        st.integers(10, 20), st.booleans(), st.integers(6, 12), st.sampled_from([None, 20, 30, 40]),
    ),
    min_size=1, max_size=5,
)  # fmt: skip
STOCK = st.lists(
    st.builds(
        Pieces, st.sampled_from(["M6", "M8"]), st.sampled_from([20, 25, 30, 40, 50]), st.integers(1, 2)
    ),
    max_size=4,
    unique_by=lambda one: (one.thread, one.length_mm),
)


def worth(bosses: list[Boss], chosen: tuple[Pieces | None, ...]) -> tuple[int, int, float] | None:
    """Filled places, places as said, thread beyond what is needed; None where it must not be."""
    filled = said = 0
    beyond = 0.0
    for boss, one in zip(bosses, chosen, strict=True):
        if one is None:
            continue
        if one.thread != boss.thread:
            return None
        reach = one.length_mm - boss.grip_mm
        engaged = max(0, min(reach, boss.thread_mm))
        if (boss.blind and reach > boss.thread_mm) or engaged < boss.needed_mm:
            return None
        filled += 1
        said += boss.said_mm is None or boss.said_mm == one.length_mm
        beyond += engaged - boss.needed_mm
    return -filled, -said, beyond


@given(BOSSES, STOCK)
def test_as_good_as_the_best_of_all_placings(bosses: list[Boss], stock: list[Pieces]) -> None:
    possible = [
        found
        for chosen in product([None, *stock], repeat=len(bosses))
        if all(chosen.count(one) <= one.count for one in stock)
        and (found := worth(bosses, chosen)) is not None
    ]
    placed = place_lengths(bosses, stock).placed
    by_size = {(one.thread, one.length_mm): one for one in stock}
    mine = tuple(
        None if one.length_mm is None else by_size[boss.thread, one.length_mm]
        for boss, one in zip(bosses, placed, strict=True)
    )
    assert all(mine.count(one) <= one.count for one in stock)
    found = worth(bosses, mine)
    assert found is not None
    assert found[:2] == min(possible)[:2]
    assert found[2] == pytest.approx(min(possible)[2])
