"""What points in the words of a page and became no reference is told, and keeps plans open."""

import pytest

from lastbolt.app.make_plan import make_plan
from paged import book


def told(*section: str) -> list[str]:
    return [one.what for one in book(*section).problems if one.code == "LB-R17"]


@pytest.mark.parametrize("words", ["Then come the parts of 4.2 (4-2).", "Remove the blower (see 4.2)."])
def test_what_became_a_reference_is_not_told(words):
    assert told(f"1. {words}", "2. Lift off the lever.") == []


@pytest.mark.parametrize(
    "words",
    ["Undo 2 nuts (10-24).", "Tighten to 4.2 N·m.", "Lay the lever aside (3, 5).", "See this section."],
)
def test_sizes_callouts_and_the_section_itself_point_nowhere(words):
    assert told(f"1. {words}", "2. Lift off the lever.") == []


def test_the_same_number_twice_on_a_page_is_held_twice():
    assert told("1. Remove the blower (see 4.2).", "2. Fit the duct as in 4.2.", "3. Lift it off.") == []


@pytest.mark.parametrize("words", ["Lift off the lever as in 6.7.", "Lift off the lever → 6.7."])
def test_a_number_behind_a_sign_or_word_that_no_section_has_is_told_and_keeps_plans_open(words):
    machine = book(f"1. {words}", "2. Lift it aside.")
    (problem,) = [one for one in machine.problems if one.code == "LB-R17"]
    assert words in problem.what
    assert "page" in problem.where
    assert not make_plan(machine, "5.1").complete


def test_a_number_in_brackets_is_told_where_it_stands_beside_words_elsewhere_as_at_a_heading():
    machine = book("1. Remove the fan (6-2).", "2. Lift it aside.", more=("Fan guard 6-2",))
    assert [one.what for one in machine.problems if one.code == "LB-R17" and "(6-2)" in one.what]
    assert told("1. Remove the fan (6-2).", "2. Lift it aside.") == []
