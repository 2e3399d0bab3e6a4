"""Slips of the pen in a goal: the section meant is offered first, and nothing is taken unasked."""

import pytest

from lastbolt.planning.goal import find_goal
from planned import machine, proc

BOOK = machine(
    proc("4.2", title="Dismounting the engine", parts=("engine",)),
    proc("4.6", title="Removing the gearcase cover", parts=("gearcase cover",)),
    proc("4.7", title="Separating the gearcase halves", deed="separate", parts=("gearcase halves",)),
    proc("5.1", title="Joining the gearcase halves", deed="join", parts=("gearcase halves",)),
    proc("5.4", title="Installing the engine", deed="install", parts=("engine",)),
)


@pytest.mark.parametrize(
    ("goal", "first"),
    [
        ("Seperate the gear case", "4.7"),
        ("seperate gearcase", "4.7"),
        ("split the gearcaes", "4.7"),
        ("dissmount the engine", "4.2"),
        ("remove the gearcase covr", "4.6"),
        ("instal the engine", "5.4"),
    ],
)
def test_the_nearest_is_offered_first_and_not_taken(goal: str, first: str) -> None:
    chosen, near = find_goal(BOOK, goal)
    assert chosen == ()
    assert near[0].number == first
    assert len(near) == 1 or near[0].score > near[1].score


@pytest.mark.parametrize(
    "goal", ["pull the gearcase apart", "take the gearcase apart", "§ 4.7", "Section 4.7."]
)
def test_other_ways_to_say_it(goal: str) -> None:
    assert find_goal(BOOK, goal)[0] == ("4.7",)
