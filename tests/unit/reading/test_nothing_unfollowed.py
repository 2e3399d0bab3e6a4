"""What points in words that no rule reads is told and keeps plans open; more forms are followed or open."""

import pytest

from lastbolt.app.make_plan import make_plan
from lastbolt.app.read_sources import references_of
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.pointers import pointers_in
from lastbolt.reading.references import Directory, look_up
from lastbolt.reading.steps import RawReference
from lastbolt.reading.targets import Target
from paged import book, numbered, pointing, said


@pytest.mark.parametrize(
    ("label", "words"),
    [
        ("Tools: puller; torque wrench (see 4.2)", "(see 4.2)"),
        ("Materials: oil, to be drained as in 2.1", "2.1"),
    ],
)
def test_a_list_of_things_that_points_is_told_and_keeps_plans_open(label, words):
    machine = book(label, "1. Lift off the lever.")
    (problem,) = [one for one in machine.problems if one.code == "LB-R17"]
    assert words in problem.what
    assert "page" in problem.where
    plan = make_plan(machine, "5.1")
    assert not plan.complete
    assert any(words in point.words for point in plan.open)


def test_a_list_of_things_that_points_nowhere_is_not_told():
    machine = book("Tools: puller 4-2; drift 12.5 mm; special tool 4.2", "1. Lift off the lever.")
    assert [one for one in machine.problems if one.code == "LB-R17"] == []


@pytest.mark.parametrize(
    "words",
    [
        "Remove the blower, sheet 4.",
        "Remove the blower (sheet 12A).",
        "Take the lever apart as told in blower, removal.",
        "Take the lever off; follow removing the blower, items 1) and 2).",
        "For the whole assembly see the chapter COOLING.",
        "For the complete assembly see the chapter COOLING.",
        "See the task “Removing the blower”.",
        "Before this, the work of 4.2 has to be behind you.",
        "Take off the blower following 4.2 steps 1 to 2.",
        "Perform the preliminary steps of 4.2.",
        "Only when the shaft is damaged, see 4.2.",
        "Blower removed (para 4.2 or 4.3).",
    ],
)
def test_further_forms_are_followed_or_open(words):
    machine = book(f"1. {words}", "2. Lift off the lever.")
    own = numbered(machine, "5.1")
    followed = [one for one in references_of(own) if one.role == "before" and one.status == "resolved"]
    assert followed or make_plan(machine, "5.1").open


@pytest.mark.parametrize(
    "words", ["Before this, do 4.2.", "Prior to this, the work of 4.2.", "Before that do 4.2."]
)
def test_what_is_to_be_done_before_this_comes_first(words):
    assert said(pointing(f"1. {words}")) == [("before", "resolved", ["4.2"])]


def test_a_page_printed_with_spaces_is_one_page():
    (pointer,) = pointers_in(lexicon().scan("Take it off, page 4 - 2."), lexicon())
    assert pointer.targets == ("4", "2")
    target = Target("b/section/x", "", "Fan", ("fan",), "remove", frozenset(("fan",)), "b/procedure/x",
                    None, "b", "4 - 2", frozenset(("4 - 2",)))  # fmt: skip
    directory = Directory([target], {}, lexicon())
    found = look_up(RawReference(pointer, "Take it off, page 4 - 2.", ("remove",)), target, directory)
    assert found is not None
    assert (found.to, found.status) == (("b/procedure/x",), "resolved")
