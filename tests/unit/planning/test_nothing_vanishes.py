"""What a goal needs never leaves the plan without a word: ticks, variants, questions, empty sections."""

import pytest

from lastbolt.app.make_plan import make_plan
from lastbolt.words.engine import ENGINE_SCHEMA, Engine
from lastbolt.words.job import JOB_SCHEMA, Event, Job, ProcedureDone, QuestionAnswered, SetAside, StepDone
from lastbolt.words.machine import Applies, Machine
from lastbolt.words.plan import Plan
from planned import machine, proc, ref

E = Applies(("E",), words="Variant E")
H = Applies(("H",), words="Variant H")


def job(*events: Event) -> Job:
    return Job(JOB_SCHEMA, "j", "a", events=events)


def ticked(name: str, looked: bool = False) -> ProcedureDone:
    return ProcedureDone(id=f"done {name}", by="kim", procedure=name, looked=looked)


def engine(variant: str) -> Engine:
    return Engine(ENGINE_SCHEMA, "e", "no. 3", variant=variant)


def shown(plan: Plan) -> list[tuple[str, str, str]]:
    return [(line.kind, line.id, line.state) for line in plan.lines if line.kind != "opening"]


STARTERS = machine(
    proc("a", "1", before=(
        ref("r1", "b", applies=E, only_if="Variant E"), ref("r2", "c", applies=H, only_if="Variant H"),
    )),
    proc("b", "1", title="Removing the starter"),
    proc("c", "1", title="Removing the handle bracket"),
)  # fmt: skip


def test_a_condition_that_only_names_the_variant_is_answered_by_the_variant() -> None:
    plan = make_plan(STARTERS, "a", engine("H"))
    assert shown(plan) == [("step", "c.1", "to do"), ("step", "a.1", "to do")]
    assert plan.complete
    assert [one.subject for one in plan.left_out] == ["r1"]


def test_without_the_variant_both_stand_marked_and_each_is_open_once() -> None:
    plan = make_plan(STARTERS, "a")
    openings = [(line.id, line.only_if) for line in plan.lines if line.kind == "opening"]
    assert openings == [("b", "Variant E"), ("c", "Variant H"), ("a", "")]
    assert [(item.kind, item.subject) for item in plan.open] == [("variant", "r1"), ("variant", "r2")]


def test_what_is_needed_anyway_is_not_marked_for_one_variant() -> None:
    made = machine(
        proc("a", "1", before=(ref("r1", "b", applies=E), ref("r2", "c"))),
        proc("b", "1"),
        proc("c", "1", before=(ref("r3", "b"),)),
    )
    assert [line.only_if for line in make_plan(made, "a").lines] == [""] * 6


@pytest.mark.parametrize("begun", [StepDone(id="s", by="kim", step="a.1"), ticked("a")])
def test_what_the_set_up_of_work_already_begun_asked_for_is_still_to_be_confirmed(begun: Event) -> None:
    plan = make_plan(STARTERS, "a", engine("H"), job(ticked("c", looked=True), begun))
    assert shown(plan)[0] == ("confirm", "c", "done")
    unticked = make_plan(STARTERS, "a", engine("H"), job(begun))
    assert shown(unticked)[0] == ("confirm", "c", "taken for done")


def either() -> Machine:
    return machine(
        proc("a", "1", "2", before=(ref("r", "b", "c", any_of=True),)),
        proc("d", "1", before=(ref("s", "a"),)),
        proc("b", "1"),
        proc("c", "1"),
    )


@pytest.mark.parametrize(
    ("goal", "done"), [("a", StepDone(id="s", by="kim", step="a.1")), ("d", ticked("a", looked=True))]
)
def test_which_alternative_was_taken_is_still_asked_behind_ticked_work(goal: str, done: Event) -> None:
    plan = make_plan(either(), goal, None, job(done))
    assert [(item.kind, item.subject) for item in plan.open] == [("question", "r")]
    said = make_plan(
        either(), goal, None, job(done, QuestionAnswered(id="q", by="kim", question="r", answer="c"))
    )
    assert ("confirm", "c", "taken for done") in shown(said)
    assert said.complete


def test_a_tick_answers_its_condition() -> None:
    made = machine(proc("a", "1", before=(ref("r", "b", only_if="the shaft is damaged"),)), proc("b", "1"))
    plan = make_plan(made, "a", None, job(ticked("b")))
    assert shown(plan) == [("confirm", "b", "done, not looked at"), ("step", "a.1", "to do")]
    assert plan.complete


@pytest.mark.parametrize("first", ["b", "c"])
def test_steps_that_stand_only_behind_a_tick_are_there_beside_those_to_do(first: str) -> None:
    part, whole = ref("r1", "c", steps=("1", "1")), ref("r2", "b")
    before = (part, whole) if first == "c" else (whole, part)
    made = machine(
        proc("a", "1", before=before), proc("b", "1", before=(ref("r3", "c"),)), proc("c", "1", "2", "3")
    )
    plan = make_plan(made, "a", None, job(ticked("b")))
    steps = [(line.id, line.state) for line in plan.lines if line.procedure == "c" and line.kind == "step"]
    assert steps == [("c.1", "to do"), ("c.2", "taken for done"), ("c.3", "taken for done")]
    assert all(line.question for line in plan.lines if line.state == "taken for done")
    alone = make_plan(made, "b", None, job())
    assert [line.state for line in alone.lines if line.procedure == "c"] == ["to do"] * 4


def test_a_narrowed_reference_and_later_the_whole_give_every_step_once() -> None:
    marks = [str(number) for number in range(1, 10)]
    made = machine(
        proc("a", "1", before=(ref("r1", "b", steps=("3", "7")), ref("r2", "c"))),
        proc("b", *marks),
        proc("c", "1", before=(ref("r3", "b"),)),
    )
    steps = [line.mark for line in make_plan(made, "a").lines if line.procedure == "b" and line.step]
    assert steps == marks


@pytest.mark.parametrize("goal", ["a", "b"])
def test_a_section_of_which_no_step_was_read_is_never_a_complete_plan(goal: str) -> None:
    plan = make_plan(machine(proc("a", "1", before=(ref("r", "b"),)), proc("b")), goal)
    assert [(item.kind, item.subject) for item in plan.open] == [("page", "b")]
    assert plan.open[0].citations
    assert not plan.complete
    looked = SetAside(id="e", by="kim", reference="b", reason="it only shows a picture")
    settled = make_plan(machine(proc("a", "1", before=(ref("r", "b"),)), proc("b")), goal, None, job(looked))
    assert settled.complete
    assert [(one.subject, one.why) for one in settled.left_out] == [("b", "it only shows a picture")]


def test_a_section_that_only_sends_on_or_is_ticked_is_not_empty() -> None:
    sends = machine(proc("a", before=(ref("r", "b"),)), proc("b", "1"))
    assert make_plan(sends, "a").complete
    empty = machine(proc("a", "1", before=(ref("r", "b"),)), proc("b"))
    assert make_plan(empty, "a", None, job(ticked("b"))).complete


def test_a_section_number_that_heads_two_procedures_means_both_or_is_asked() -> None:
    from msgspec.structs import replace

    from lastbolt.words.machine import Section

    off = replace(proc("m/6.2.removal", "1"), number="6.2")
    on = replace(proc("m/6.2.installation", "1", deed="install"), number="6.2")
    made = machine(
        proc("a", "1", before=(ref("r", "m/section/6.2"),)), off, on,
        sections=(Section("m/section/6.2", "6.2", "Inspection cover", 2),),
    )  # fmt: skip
    plan = make_plan(made, "a")
    assert plan.lines[0].choices == ("m/6.2.removal", "m/6.2.installation")
    goal = make_plan(made, "6.2")
    assert [one.procedure for one in goal.candidates] == ["m/6.2.removal", "m/6.2.installation"]
    assert goal.procedures == ()


def test_a_removal_without_a_number_of_its_own_goes_by_the_number_above_it() -> None:
    from msgspec.structs import replace

    from lastbolt.words.machine import Section

    off = replace(proc("m/procedure/6.2.removal", "1", title="Inspection cover: Removal"), number="")
    on = replace(proc("m/procedure/6.2.installation", "1", deed="install"), number="")
    alone = replace(proc("m/procedure/engine-removal", "1"), number="")
    made = machine(
        off, on, alone,
        sections=(
            Section("m/section/6", "6", "Gearcase", 1),
            Section("m/section/6.2", "6.2", "Inspection cover", 2, "m/section/6"),
            Section("m/section/6.2.removal", "", "Removal", 3, "m/section/6.2"),
            Section("m/section/6.2.installation", "", "Installation", 3, "m/section/6.2"),
            Section("m/section/engine-removal", "", "Engine removal", 1, "m/section/engine-removal"),
        ),
    )  # fmt: skip
    assert {line.number for line in make_plan(made, off.id).lines} == {"6.2"}
    assert [one.procedure for one in make_plan(made, "6.2").candidates] == [off.id, on.id]
    assert {line.number for line in make_plan(made, alone.id).lines} == {""}
