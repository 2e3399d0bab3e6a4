"""Each answer of a person at a place says one thing of its fastener: there, not there, cannot be, nothing."""

from typing import get_args

from lastbolt.words.joint import (
    A_DOWEL,
    LOOKED_THROUGH,
    NO_HOLE,
    NOTHING_IN,
    SHANK_STAYS,
    SOLID_DOWEL,
    SOMETHING_IN,
    Saw,
)

EVERY = get_args(Saw)


def test_each_answer_stands_in_just_one_group() -> None:
    grouped = [*SOMETHING_IN, *NOTHING_IN, *NO_HOLE, "out", "cannot see"]
    assert sorted(grouped) == sorted(EVERY)


def test_dowels_are_the_answers_that_name_one() -> None:
    assert set(A_DOWEL) == {saw for saw in EVERY if "dowel" in saw}
    assert set(SOLID_DOWEL) == {saw for saw in A_DOWEL if saw.startswith("solid")}


def test_a_shank_left_in_is_something_in_and_looking_through_finds_none() -> None:
    assert SHANK_STAYS in SOMETHING_IN
    assert not set(LOOKED_THROUGH) & set(SOMETHING_IN)
