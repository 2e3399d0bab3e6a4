"""An export read again by the XML reader: the same steps, warnings, counts and torques, in order.

The first manual is written here as DITA tasks, so that what the plan knows was read from words.
"""

import pytest
from plans import FORMS, Made, every_kind, read_again, text_of

from lastbolt.app.make_plan import make_plan
from lastbolt.app.read_sources import Marked, SourceFile, read_sources
from lastbolt.edge.xml_parse import parse
from lastbolt.words.machine import Machine, Mention, Procedure, Step
from lastbolt.words.plan import Line
from lastbolt.words.tree import Module, Publication

GUARD = """<task id="guard"><title>Removing the belt guard</title><taskbody>
<prelreqs><supequip><supeqli><supequi>Socket 10 mm</supequi></supeqli></supequip></prelreqs>
<steps>
<step><note type="warning">The edges are sharp.</note>
<cmd>Remove the four screws M6 x 16 with their washers.</cmd></step>
<step><cmd>Take the belt guard off to the rear.</cmd></step>
</steps></taskbody></task>"""
CASE = """<task id="case"><title>Separating the winch case</title><taskbody>
<prelreqs><reqconds><reqcond>Belt guard removed (<xref href="guard.dita"/>)</reqcond>
<reqcond>Winch on a stand</reqcond></reqconds></prelreqs>
<steps>
<step><note type="danger">The spring is wound.</note><note type="note">It has a left-hand thread.</note>
<cmd>Slacken the shaft nut (left-hand thread) and unscrew it.</cmd></step>
<step><cmd>Remove seven screws M6 x 45 and two screws M8 x 70.</cmd></step>
<step><note type="caution">Do not lever on the faces.</note>
<cmd>Press evenly until the joint opens.</cmd></step>
<step><cmd>Tighten the guide studs to 12 N·m (8.9 lbf·ft).</cmd></step>
</steps></taskbody></task>"""


def manual() -> Machine:
    texts = {"guard.dita": GUARD, "case.dita": CASE}
    modules = tuple(Module(name, parse(text.encode(), name, name).root) for name, text in texts.items())
    return read_sources([Marked(SourceFile("manual", "0" * 64), Publication(modules))]).machine


def planned_case() -> Made:
    whole = manual()
    return Made(whole, make_plan(whole, "separate the winch case"))


def named(mentions: tuple[Mention, ...]) -> list[tuple[object, ...]]:
    return [(one.name, one.deed, one.quantity.low, one.quantity.high, one.kind) for one in mentions]


def facts(one: Line | Step) -> tuple[object, ...]:
    return (
        one.words, named(one.mentions), [value.printed for value in one.torques], one.left_hand, one.locks,
    )  # fmt: skip


def work(read: Procedure) -> list[Step]:
    """The steps of the source: without conditions and what was to be confirmed."""
    return [step for step in read.steps if not step.words.startswith(("Required: ", "Confirm "))]


@pytest.mark.parametrize("form", FORMS)
def test_steps_counts_and_torques_come_back_in_order(form: str) -> None:
    made = planned_case()
    lines = [line for line in made.plan.lines if line.kind == "step"]
    assert len(lines) == 6
    assert [value.printed for line in lines for value in line.torques], "a torque was read"
    back = work(read_again(text_of(made, form)))
    assert [facts(step) for step in back] == [facts(line) for line in lines]


@pytest.mark.parametrize("form", FORMS)
def test_warnings_come_back_at_their_steps(form: str) -> None:
    """S1000D has no danger: it comes back as a warning that says so. Heads of sections come back as notes."""
    made = planned_case()
    lines = [line for line in made.plan.lines if line.kind == "step"]
    back = work(read_again(text_of(made, form)))
    for step, line in zip(back, lines, strict=True):
        told = [(one.signal, one.words) for one in step.cautions]
        for caution in line.cautions:
            as_danger = ("warning", f"DANGER: {caution.words}")
            said = (
                as_danger
                if form == "s1000d" and caution.signal == "danger"
                else (caution.signal, caution.words)
            )
            assert said in told
        own = [one for one in told if one[0] != "note" and not one[1].startswith("STOP.")]
        assert len(own) == sum(one.signal != "note" for one in line.cautions), "none is put to another step"


@pytest.mark.parametrize("form", FORMS)
def test_conditions_tools_and_title_come_back(form: str) -> None:
    made = planned_case()
    back = read_again(text_of(made, form))
    assert any(one.words == "Winch on a stand" and one.status == "in words" for one in back.before)
    assert back.tools == ("Socket 10 mm",)
    assert "Separating the winch case" in back.title


def test_the_export_can_be_planned_again() -> None:
    made = planned_case()
    publication = Publication((Module("x.dita", parse(text_of(made, "dita").encode(), "x.dita", "x").root),))
    whole = read_sources([Marked(SourceFile("x.dita", "0" * 64), publication)]).machine
    again = make_plan(whole, "separate the winch case")
    wanted = [line.words for line in made.plan.lines if line.kind == "step"]
    assert [line.words for line in again.lines if line.words in wanted] == wanted


@pytest.mark.parametrize("form", FORMS)
def test_a_plan_that_is_not_complete_is_not_complete_when_read_again(form: str) -> None:
    made = every_kind()
    back = read_again(text_of(made, form))
    points = [one for one in back.before if one.words.startswith("Open: ")]
    assert points
    assert any("not complete" in one.words for one in back.cautions)
