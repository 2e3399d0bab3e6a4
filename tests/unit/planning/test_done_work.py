"""Work that is already ticked stays in the plan as one line to confirm, and so does what it stood on."""

from lastbolt.app.make_plan import make_plan
from lastbolt.words.job import JOB_SCHEMA, Event, Job, ProcedureDone, StepDone, StepStarted, Undone
from lastbolt.words.machine import Machine, Mention
from lastbolt.words.plan import Line
from lastbolt.words.standing import standing
from planned import machine, proc, ref, step

CHAIN = machine(
    proc("a", "1", "2", before=(ref("r1", "b"), ref("r2", "d"))),
    proc("b", step("1", mentions=(Mention("bracket", "remove"),), figures=("f2",)), "2",
         before=(ref("r3", "c"),), parts=("guard",), figures=("f1",)),
    proc("c", "1", parts=("chain",)),
    proc("d", "1", before=(ref("r4", "c"),)),
)  # fmt: skip
ALONE = machine(*CHAIN.procedures[1:3], proc("a", "1", before=(ref("r1", "b"),)))


def lines(made: Machine, *events: Event) -> list[Line]:
    return list(make_plan(made, "a", None, Job(JOB_SCHEMA, "j", "a", events=events)).lines)


def shown(found: list[Line]) -> list[tuple[str, str, str]]:
    return [(line.kind, line.id, line.state) for line in found if line.kind != "opening"]


def ticked(name: str, event: str = "e1", looked: bool = False, by: str = "kim") -> ProcedureDone:
    return ProcedureDone(id=event, by=by, procedure=name, looked=looked)


def test_a_ticked_procedure_and_what_it_stood_on_are_to_be_confirmed() -> None:
    found = lines(ALONE, ticked("b"))
    assert shown(found) == [
        ("confirm", "c", "taken for done"), ("confirm", "b", "done, not looked at"), ("step", "a.1", "to do"),
    ]  # fmt: skip
    b = found[1]
    assert (b.off, b.figures, b.by, b.said, b.looked) == (
        ("guard", "bracket"), ("f1", "f2"), ("kim",), ("e1",), False,
    )  # fmt: skip
    assert b.citations
    assert b.question
    assert (found[0].by, found[0].required_by.line) == ((), "b")


def test_what_open_work_needs_as_well_is_not_taken_for_done() -> None:
    found = lines(CHAIN, ticked("b"))
    assert ("step", "c.1", "to do") in shown(found)
    assert ("confirm", "b", "done, not looked at") in shown(found)


def test_the_question_says_what_the_tick_is_worth() -> None:
    unticked, only_ticked = (line.question for line in lines(ALONE, ticked("b"))[:2])
    looked = lines(ALONE, ticked("b", looked=True))[1].question
    assert "Nobody ticked" in unticked
    assert "do not rely on the tick" in only_ticked
    assert "Somebody looked" in looked


def test_two_people_and_a_look() -> None:
    found = lines(ALONE, ticked("b"), ticked("b", "e2", True, "lee"))
    assert (found[1].by, found[1].looked, found[1].state) == (("kim", "lee"), True, "done")


def test_an_undone_tick_never_happened_and_an_undone_undo_neither() -> None:
    tick, undo = ticked("b"), Undone(id="e2", by="kim", undoes="e1")
    assert not any(line.kind == "confirm" for line in lines(ALONE, tick, undo))
    again = Undone(id="e3", by="kim", undoes="e2")
    assert any(line.kind == "confirm" for line in lines(ALONE, tick, undo, again))
    assert standing(Job(JOB_SCHEMA, "j", "a", events=(tick, undo, again))) == ((0, tick),)


def test_a_procedure_of_which_every_step_is_ticked_is_one_line() -> None:
    one = StepDone(id="e1", by="kim", step="b.1", looked=True)
    two = StepDone(id="e2", by="lee", step="b.2")
    assert shown(lines(ALONE, one, two))[1] == ("confirm", "b", "done, not looked at")
    some = lines(ALONE, one)
    assert [line for line in shown(some) if line[1] in ("b.1", "b.2", "c")] == [
        ("confirm", "c", "taken for done"), ("step", "b.1", "done"), ("step", "b.2", "to do"),
    ]  # fmt: skip


def test_a_started_step_says_nothing_is_done() -> None:
    found = lines(ALONE, StepStarted(id="e1", by="kim", step="b.1"))
    assert ("step", "b.1", "started") in shown(found)
    assert ("step", "c.1", "to do") in shown(found)


def test_the_goal_itself_is_shown_step_by_step_even_when_ticked() -> None:
    found = lines(ALONE, ticked("a"))
    assert shown(found) == [("confirm", "c", "taken for done"), ("confirm", "b", "taken for done"),
                            ("step", "a.1", "done, not looked at")]  # fmt: skip


def test_a_nut_that_is_slackened_and_unscrewed_must_be_off_and_each_part_is_named_once() -> None:
    nut, clamps = Mention("output shaft nut", "loosen"), Mention("clamps", "loosen")
    taken = (Mention("Coupling half", "remove"), Mention("hose", "remove"))
    b = proc("b", step("1", deeds=("loosen", "remove"), mentions=(nut, clamps, *taken)),
             parts=("coupling half",))  # fmt: skip
    kept = proc("c", step("1", deeds=("loosen",), mentions=(nut,)), before=(ref("r2", "b"),))
    found = lines(machine(proc("a", "1", before=(ref("r1", "c"),)), b, kept), ticked("b"), ticked("c", "e2"))
    assert found[0].off == ("coupling half", "output shaft nut", "hose")
    assert found[1].off == ()
