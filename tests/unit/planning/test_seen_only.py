"""A "see" to work that takes something off is asked about, and an answer brings that work in."""

import pytest

from lastbolt.app.make_plan import make_plan
from lastbolt.words.job import JOB_SCHEMA, Event, Job, QuestionAnswered, SetAside
from lastbolt.words.machine import Machine, Reference
from planned import machine, proc, ref, step


def plan(made: Machine, *events: Event):
    return make_plan(made, "a", None, Job(JOB_SCHEMA, "j", "a", events=events))


def book(reference: Reference) -> Machine:
    return machine(proc("a", step("1", reference)), proc("b", "1"), proc("c", "1", deed="check"))


SEES_B = ref("r1", "b", role="see")
DOUBTS_B = ref("r1", "b", role="see", status="doubtful")


SEES_B_IF = ref("r1", "b", role="see", only_if="if worn")


@pytest.mark.parametrize("reference", [SEES_B, DOUBTS_B, SEES_B_IF])
def test_it_is_open_until_somebody_answers(reference):
    made = plan(book(reference))
    (point,) = made.open
    assert (point.subject, point.kind) == ("r1", "reference")
    assert [line.id for line in made.lines if line.kind == "step"] == ["a.1"]
    assert not made.complete


@pytest.mark.parametrize("reference", [SEES_B, DOUBTS_B])
def test_yes_puts_the_work_before_the_step(reference):
    made = plan(book(reference), QuestionAnswered(id="e1", by="kim", question="r1", answer="yes"))
    assert [line.id for line in made.lines if line.kind == "step"] == ["b.1", "a.1"]
    assert made.open == ()


@pytest.mark.parametrize("reference", [SEES_B, DOUBTS_B])
def test_set_aside_it_stays_out(reference):
    made = plan(book(reference), SetAside(id="e1", by="kim", reference="r1", reason="looked, not here"))
    assert [line.id for line in made.lines if line.kind == "step"] == ["a.1"]
    assert made.open == ()


def test_another_section_than_the_one_named_can_be_meant():
    made = plan(book(DOUBTS_B), QuestionAnswered(id="e1", by="kim", question="r1", answer="c"))
    assert [line.id for line in made.lines if line.kind == "step"] == ["c.1", "a.1"]


def test_words_that_name_no_place_are_open():
    (point,) = plan(book(ref("r1", role="see", status="doubtful"))).open
    assert "names no place" in point.words


def test_work_that_is_in_the_plan_anyway_is_not_asked():
    made = machine(proc("a", step("1", SEES_B), step("2", ref("r2", "b"))), proc("b", "1"))
    assert plan(made).open == ()


@pytest.mark.parametrize(
    "reference",
    [ref("r1", "c", role="see"), ref("r1", "b", role="after")],
)
def test_a_check_and_what_follows_are_not_asked(reference):
    assert plan(book(reference)).open == ()
