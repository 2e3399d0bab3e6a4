"""Force: the step before which work stops, and screws named without number."""

import pytest
from msgspec.structs import replace

from lastbolt.planning.force import bare_fasteners, begun_past, parting_of, stops
from lastbolt.words.machine import Mention
from lastbolt.words.plan import Line, LineKind, Plan, RequiredBy
from lastbolt.words.quantity import Kind, exactly


def step(number: int, words: str, procedure: str = "goal", mentions: tuple[Mention, ...] = ()) -> Line:
    return Line(f"s{number}", "step", procedure, RequiredBy("goal"), words=words, mentions=mentions)


def plan(*lines: Line) -> Plan:
    return Plan("lastbolt.plan/1", "part it", procedures=("goal",), lines=lines)


@pytest.mark.parametrize(
    "words",
    ["Press evenly until the joint opens.", "Separate the halves.", "Drive the cover off with a soft mallet.",
     "Pull the halves apart.", "Prise the cover at the two lugs."],
)  # fmt: skip
def test_the_first_step_with_force_is_found(words: str) -> None:
    assert stops(plan(step(1, "Remove the case screws."), step(2, words), step(3, words))) == {"s2"}


def test_force_in_earlier_sections_is_not_this_joints() -> None:
    assert not stops(plan(step(1, "Pull the hub off.", "other"), step(2, "Remove the screws.")))


def test_bare_screws_are_those_without_size_and_number() -> None:
    bare = Mention("case screws", "remove", kind=Kind("screw"))
    assert bare_fasteners(step(1, "Remove the case screws.", mentions=(bare,)))
    for told in (
        Mention("screws", "remove", exactly(4), Kind("screw")),
        Mention("screws", "remove", kind=Kind("screw", "M8")),
        Mention("screws", "tighten", kind=Kind("screw")),
    ):
        assert not bare_fasteners(step(1, "x", mentions=(told,)))


def title(words: str, procedure: str, kind: LineKind = "opening") -> Line:
    return Line(procedure, kind, procedure, RequiredBy("goal"), words=words)


PARTED = (title("Separating the gearcase", "6.4"), step(4, "Press evenly until it opens.", "6.4"))
INSIDE = (title("Removing gears and shafts", "goal"), step(6, "Draw the shaft (2) out of the housing."))


def test_the_stop_stands_where_the_joint_is_parted_wherever_the_goal_lies() -> None:
    whole = plan(*PARTED, *INSIDE)
    assert stops(whole) == {"s4"}
    assert parting_of(whole, ("gearcase",)) == ("6.4",)


def test_the_goals_own_screws_are_a_joint_of_their_own_beside_one_parted_before() -> None:
    screws = Mention("cap screws", "remove", exactly(4), Kind("screw", "M6"))
    own = (INSIDE[0], step(5, "Remove the four cap screws.", mentions=(screws,)), step(7, "Pry the cap off."))
    assert stops(plan(*PARTED, *own)) == {"s4", "s7"}
    assert parting_of(plan(*PARTED, *own), ("gearcase",)) == ("goal",)


def test_of_two_joints_that_were_parted_the_one_that_was_walked_counts() -> None:
    other = (title("Splitting the crankcase", "8.1"), step(8, "Drive the halves apart.", "8.1"))
    whole = plan(*PARTED, *other, *INSIDE)
    assert stops(whole) == {"s4", "s8"}
    assert parting_of(whole, ("crankcase",)) == ("8.1",)
    assert parting_of(whole, ("pump",)) == ("6.4", "8.1")


def test_what_is_drawn_off_by_hand_is_no_force() -> None:
    assert not stops(plan(step(1, "Draw the pinion off by hand.")))


def test_a_step_begun_past_the_stop_is_told() -> None:
    begun = replace(step(2, "Press evenly."), state="started")
    assert begun_past(plan(begun)) == (begun,)
    assert not begun_past(plan(step(2, "Press evenly.")))


def test_force_on_dowels_that_come_out_parts_nothing_yet() -> None:
    dowels = Mention("dowels", "remove", exactly(2), Kind("dowel"))
    driven = step(4, "Drive the two dowels out upwards.", mentions=(dowels,))
    assert stops(plan(driven, step(5, "Push the halves apart with the jacking screws."))) == {"s5"}
