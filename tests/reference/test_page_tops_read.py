"""A step at the top of a page is a step: common practice, no source (sheets without any running head)."""

from pathlib import Path

import pytest

from reference.printed import ON_A_PAGE, read_lines, steps_of

DEEDS = ("Remove", "Take off", "Unscrew")
PARTS = ("drain plug", "lid", "3 bolts M8 x 25", "4 nuts M6", "cover plate", "clamp", "two long screws")
PLACES = ("", " of the gearbox", " on the left side", " with the washers", " and put it aside")


@pytest.mark.parametrize("pages", [1, 2, 3])
def test_each_step_is_read_wherever_it_stands(tmp_path: Path, pages: int) -> None:
    lines = [f"{n}. {DEEDS[n % 3]} the {PARTS[n % 7]}{PLACES[n % 5]}." for n in range(1, steps_on(pages) + 1)]
    read = steps_of(read_lines(tmp_path, lines))
    assert [f"{step['mark']}. {step['words']}" for step in read] == lines


@pytest.mark.xfail(strict=True, reason="steps that differ in their number only are taken for running heads")
@pytest.mark.parametrize("pages", [2, 3])
def test_steps_with_the_same_words_are_steps(tmp_path: Path, pages: int) -> None:
    lines = [f"{n}. Remove the 3 bolts." for n in range(1, steps_on(pages) + 1)]
    assert len(steps_of(read_lines(tmp_path, lines))) == len(lines)


def steps_on(pages: int) -> int:
    """So many steps that the last page has a few."""
    return ON_A_PAGE * (pages - 1) + 8
