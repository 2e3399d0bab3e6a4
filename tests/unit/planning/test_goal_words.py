"""A goal in plain words: found, offered, never guessed."""

import pytest

from lastbolt.app.make_plan import make_plan
from lastbolt.planning.goal import find_goal
from lastbolt.words.engine import ENGINE_SCHEMA, Engine
from lastbolt.words.machine import Applies
from planned import machine, proc

BOOK = machine(
    proc("4.2", title="Dismounting the engine", parts=("engine",)),
    proc("4.3", title="Removing the engine mounts", parts=("engine mounts",)),
    proc("4.6", title="Gearcase cover - removal", parts=("gearcase cover",)),
    proc("4.7", title="Separating the gearcase halves", deed="separate", parts=("gearcase halves",)),
    proc("5.1", title="Joining the gearcase halves", deed="join", parts=("gearcase halves",)),
    proc("5.4", title="Installing the engine", deed="install", parts=("engine",)),
    proc("6.2", title="Parting the crankcase", deed="separate", parts=("crankcase",)),
)


@pytest.mark.parametrize(
    ("goal", "number"),
    [
        ("split the gearcase", "4.7"),
        ("part the gearcase halves", "4.7"),
        ("open the gear case", "4.7"),
        ("Separate gearcase", "4.7"),
        ("take off the engine", "4.2"),
        ("remove engine", "4.2"),
        ("dismount the engine mounts", "4.3"),
        ("engine removal", "4.2"),
        ("refit the engine", "5.4"),
        ("put the engine back", "5.4"),
        ("close the gearcase", "5.1"),
        ("part the case halves", None),
        ("part the oil pump", None),
        ("remove the rear engine hood", None),
        ("split the crankcase", "6.2"),
        ("4.7", "4.7"),
        ("section 4.7", "4.7"),
        ("para 4.2", "4.2"),
        ("remove the gearcase cover", "4.6"),
    ],
)
def test_words_of_a_workshop(goal: str, number: str | None) -> None:
    assert find_goal(BOOK, goal)[0] == ((number,) if number else ())


def test_the_only_case_is_the_case() -> None:
    only = machine(*(p for p in BOOK.procedures if p.id != "6.2"))
    assert find_goal(only, "part the case halves")[0] == ("4.7",)


@pytest.mark.parametrize("goal", ["gearcase halves", "engine", "the gearcase"])
def test_without_a_deed_both_ways_are_offered(goal: str) -> None:
    chosen, near = find_goal(BOOK, goal)
    assert chosen == ()
    assert len(near) > 1
    assert near[0].score - near[1].score < 0.12


@pytest.mark.parametrize("goal", ["bake a cake", "", "9.9", "remove the", "!!"])
def test_no_such_goal_is_said(goal: str) -> None:
    plan = make_plan(BOOK, goal)
    assert (plan.procedures, plan.candidates, plan.lines, plan.complete) == ((), (), (), False)
    assert plan.open[0].kind == "goal"


def test_a_slip_of_the_pen_is_offered_not_taken() -> None:
    chosen, near = find_goal(BOOK, "split the gaercase")
    assert chosen == ()
    assert near[0].procedure == "4.7"


def test_one_number_in_two_books_is_asked() -> None:
    twice = machine(proc("a/4.7"), proc("b/4.7"))
    both = machine(*(type(p)(p.id, "4.7", p.title) for p in twice.procedures))
    plan = make_plan(both, "4.7")
    assert plan.procedures == ()
    assert [one.procedure for one in plan.candidates] == ["a/4.7", "b/4.7"]
    assert plan.open[0].choices == ("a/4.7", "b/4.7")


def test_the_section_for_this_variant_is_taken() -> None:
    two = machine(
        proc("3.1", title="Removing the starter", applies=Applies(("R",))),
        proc("3.2", title="Removing the starter", applies=Applies(("E",))),
    )
    engine = Engine(ENGINE_SCHEMA, "e1", "no. 1", variant="e")
    assert make_plan(two, "remove the starter").procedures == ()
    assert make_plan(two, "remove the starter", engine).procedures == ("3.2",)


GEARBOX = machine(
    proc("3.1", title="Removing the selector housing", parts=("selector housing",)),
    proc("3.2", title="Removing the oil pump", parts=("oil pump",)),
    proc("4.3", title="Parting the casing", deed="separate", parts=("casing",)),
)


@pytest.mark.parametrize("goal", ["part the gearbox housing", "split the gearbox", "open the winch"])
def test_who_wants_something_parted_is_first_offered_what_parts_something(goal: str) -> None:
    chosen, near = find_goal(GEARBOX, goal)
    assert (chosen, near[0].number) == ((), "4.3")


@pytest.mark.parametrize("goal", ["part the housing", "split the case", "open the casing"])
def test_housing_casing_and_case_are_one(goal: str) -> None:
    assert find_goal(GEARBOX, goal)[0] == ("4.3",)
