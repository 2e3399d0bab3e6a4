"""Force: the step before which work stops, and screws named without number."""

import pytest

from lastbolt.planning.force import bare_fasteners, first_force
from lastbolt.words.machine import Mention
from lastbolt.words.plan import Line, Plan, RequiredBy
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
    assert first_force(plan(step(1, "Remove the case screws."), step(2, words), step(3, words))) == "s2"


def test_force_in_earlier_sections_is_not_this_joints() -> None:
    assert first_force(plan(step(1, "Pull the hub off.", "other"), step(2, "Remove the screws."))) == ""


def test_bare_screws_are_those_without_size_and_number() -> None:
    bare = Mention("case screws", "remove", kind=Kind("screw"))
    assert bare_fasteners(step(1, "Remove the case screws.", mentions=(bare,)))
    for told in (
        Mention("screws", "remove", exactly(4), Kind("screw")),
        Mention("screws", "remove", kind=Kind("screw", "M8")),
        Mention("screws", "tighten", kind=Kind("screw")),
    ):
        assert not bare_fasteners(step(1, "x", mentions=(told,)))
