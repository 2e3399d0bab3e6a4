"""A condition in words: which removal it means, when it means just one; else it stays a line to see to."""

import pytest
from msgspec.structs import replace

from lastbolt.app.make_plan import make_plan
from lastbolt.words.machine import Deed
from planned import machine, proc, ref

Others = tuple[tuple[str, Deed], ...]


def lines(words: str, others: Others) -> list[tuple[str, str]]:
    """The lines before the goal's own, as (kind, procedure or words)."""
    said = replace(ref("r", status="in words"), words=words)
    others_made = [
        proc(f"{deed} {part}", "1", title=f"{deed} {part}", deed=deed, parts=(part,)) for part, deed in others
    ]
    plan = make_plan(machine(proc("a", "1", before=(said,)), *others_made), "a")
    found = [line for line in plan.lines if line.procedure != "a" or line.kind == "condition"]
    return [(line.kind, line.words if line.kind == "condition" else line.procedure) for line in found
            if line.kind != "step"]  # fmt: skip


@pytest.mark.parametrize(
    ("words", "others", "expected"),
    [
        ("flywheel removed", (("flywheel", "remove"),), ["remove flywheel"]),
        ("The flywheel must be off.", (("flywheel", "remove"),), ["remove flywheel"]),
        ("the flywheel has been taken off", (("flywheel", "remove"),), ["remove flywheel"]),
        ("fuel tank removed", (("fuel tank", "remove"), ("fuel tank", "drain")), ["remove fuel tank"]),
        ("fuel tank drained", (("fuel tank", "remove"), ("fuel tank", "drain")), ["drain fuel tank"]),
        ("fuel tank cap removed", (("fuel tank", "remove"), ("fuel tank cap", "remove")),
         ["remove fuel tank cap"]),
        ("flywheel and fan removed", (("flywheel", "remove"), ("fan", "remove")),
         ["remove flywheel", "remove fan"]),
        ("with the oil pump dismounted", (("oil pump", "remove"), ("oil pan", "remove")),
         ["remove oil pump"]),
        ("gearcase separated", (("gearcase", "separate"), ("gearcase", "remove")), ["separate gearcase"]),
    ],
)  # fmt: skip
def test_words_that_say_known_parts_are_off_bring_their_removal(
    words: str, others: Others, expected: list[str]
) -> None:
    assert lines(words, others) == [("opening", one) for one in expected]


@pytest.mark.parametrize(
    ("words", "others"),
    [
        ("with the engine on a stand", (("engine", "remove"),)),
        ("the guard must not be removed", (("guard", "remove"),)),
        ("unless the guard is removed", (("guard", "remove"),)),
        ("shaft blocked before the flywheel is removed", (("flywheel", "remove"),)),
        ("fuel tank cap removed", (("fuel tank", "remove"),)),
        ("flywheel screws removed", (("flywheel", "remove"),)),
        ("carburettor out of the way", (("carburettor", "remove"),)),
        ("oil drained", (("engine oil", "drain"), ("gearcase oil", "drain"))),
        ("flywheel or fan removed", (("flywheel", "remove"), ("fan", "remove"))),
        ("flywheel and rotor removed", (("flywheel", "remove"),)),
        ("the actuators must already be fitted", (("actuators", "remove"),)),
    ],
)
def test_words_that_do_not_say_so_stay_a_line(words: str, others: Others) -> None:
    assert lines(words, others) == [("condition", words)]


def test_what_else_the_words_ask_for_stays_a_line() -> None:
    words = "engine removed and put on a stand"
    assert lines(words, (("engine", "remove"),)) == [("condition", words), ("opening", "remove engine")]
