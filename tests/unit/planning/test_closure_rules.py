"""What a goal needs: steps, narrowed references, alternatives, variants, conditions, circles, depth."""

import pytest

from lastbolt.app.make_plan import make_plan
from lastbolt.planning.why import why
from lastbolt.words.engine import ENGINE_SCHEMA, Engine
from lastbolt.words.job import JOB_SCHEMA, Event, Job, QuestionAnswered, SetAside
from lastbolt.words.machine import Applies, Caution, PageSeen, ReferenceStatus, Section
from lastbolt.words.plan import Plan
from lastbolt.words.problem import Problem
from planned import machine, proc, ref, step


def job(*events: Event) -> Job:
    return Job(JOB_SCHEMA, "j", "a", events=events)


def answered(question: str, answer: str) -> Job:
    return job(QuestionAnswered(id="e1", by="kim", question=question, answer=answer))


def did(plan: Plan) -> list[str]:
    """The plan as its reader sees it: openings as "= a", steps as "a.1", others as "kind: id"."""
    said = {"opening": "= {0.id}", "step": "{0.id}"}
    return [said.get(line.kind, "{0.kind}: {0.id}").format(line) for line in plan.lines]


def test_a_set_up_comes_before_and_a_step_reference_just_before_its_step() -> None:
    plan = make_plan(
        machine(
            proc("a", "1", step("2", ref("r2", "c")), "3", before=(ref("r1", "b"),)),
            proc("b", "1"),
            proc("c", "1"),
        ),
        "a",
    )
    assert did(plan) == ["= b", "b.1", "= a", "a.1", "= c", "c.1", "a.2", "a.3"]
    assert plan.complete


def test_what_two_need_stands_once_and_what_nobody_needs_not_at_all() -> None:
    plan = make_plan(
        machine(
            proc("a", "1", before=(ref("r1", "b"), ref("r2", "c"))),
            proc("b", "1", before=(ref("r3", "d"),)),
            proc("c", "1", before=(ref("r4", "d"),)),
            proc("d", "1"),
            proc("e", "1"),
        ),
        "a",
    )
    assert did(plan) == ["= d", "d.1", "= b", "b.1", "= c", "c.1", "= a", "a.1"]


def test_follow_on_and_see_are_no_earlier_work() -> None:
    made = machine(
        proc("a", step("1", ref("r1", "b", role="see")), after=(ref("r2", "c", role="after"),)),
        proc("b", "1"),
        proc("c", "1"),
    )
    assert did(make_plan(made, "a")) == ["= a", "a.1"]


def test_a_reference_to_steps_brings_those_steps_with_their_sub_steps() -> None:
    marks = ("1", "2", "3", "3a", "3b", "4", "31")
    made = machine(proc("a", "1", before=(ref("r", "b", steps=("2", "3")),)), proc("b", *marks))
    assert did(make_plan(made, "a")) == ["= b", "b.2", "b.3", "b.3a", "b.3b", "= a", "a.1"]


def test_the_order_of_a_section_stands_when_its_later_steps_are_wanted_first() -> None:
    made = machine(
        proc("a", "1", before=(ref("r1", "b", steps=("3", "3")), ref("r2", "c"))),
        proc("b", "1", "2", "3", "4", "5"),
        proc("c", "1", before=(ref("r3", "b", steps=("1", "1")), ref("r4", "b", steps=("5", "5")))),
    )
    plan = make_plan(made, "a")
    assert did(plan) == ["= b", "b.1", "b.3", "b.5", "= c", "c.1", "= a", "a.1"]
    assert [line.procedure for line in why(plan.lines, "b.5")] == ["b", "c", "a"]
    assert [line.id for line in why(plan.lines, "b.5")] == ["b.5", "c", "a"]


@pytest.mark.parametrize("steps", [("2", "9"), ("9", "2"), ("3", "1")])
def test_step_marks_that_are_not_there_bring_all_and_stay_open(steps: tuple[str, str]) -> None:
    made = machine(proc("a", "1", before=(ref("r", "b", steps=steps),)), proc("b", "1", "2", "3"))
    plan = make_plan(made, "a")
    assert did(plan) == ["= b", "b.1", "b.2", "b.3", "= a", "a.1"]
    assert [item.kind for item in plan.open] == ["reference"]
    assert plan.open[0].citations
    assert not plan.complete


def test_one_of_several_is_a_question_until_it_is_answered() -> None:
    made = machine(proc("a", "1", before=(ref("r", "b", "c", any_of=True),)), proc("b", "1"), proc("c", "1"))
    plan = make_plan(made, "a")
    assert did(plan) == ["question: r", "= a", "a.1"]
    assert plan.lines[0].choices == ("b", "c")
    assert [(item.kind, item.subject) for item in plan.open] == [("question", "r")]
    chosen = make_plan(made, "a", None, answered("r", "c"))
    assert did(chosen) == ["= c", "c.1", "= a", "a.1"]
    assert chosen.lines[0].required_by.because == "question answered"
    assert [(one.subject, one.by, one.event) for one in chosen.left_out] == [("b", "kim", "e1")]
    assert chosen.complete
    assert not make_plan(made, "a", None, answered("r", "yes")).complete, "yes chooses none"


def test_a_variant_decides_between_alternatives() -> None:
    made = machine(
        proc("a", "1", before=(ref("r", "b", "c", any_of=True),)),
        proc("b", "1", applies=Applies(("R",), words="models with rope start")),
        proc("c", "1", applies=Applies(("E",), words="models with electric start")),
    )
    plan = make_plan(made, "a", Engine(ENGINE_SCHEMA, "e", "no. 3", variant="E"))
    assert did(plan) == ["= c", "c.1", "= a", "a.1"]
    assert [(one.subject, one.why) for one in plan.left_out] == [("b", "only for models with rope start")]
    assert plan.complete
    assert [item.kind for item in make_plan(made, "a").open] == ["variant"]


@pytest.mark.parametrize(
    ("serial", "there", "complete"), [(40_210, False, True), (40_211, True, True), (None, True, False)]
)
def test_a_serial_number_decides(serial: int | None, there: bool, complete: bool) -> None:
    late = Applies(from_serial=40_211)
    for made in (
        machine(proc("a", "1", before=(ref("r", "b", applies=late),)), proc("b", "1")),
        machine(proc("a", "1", before=(ref("r", "b"),)), proc("b", "1", applies=late)),
        machine(proc("a", "1", step("b", applies=late))),
    ):
        plan = make_plan(made, "a", Engine(ENGINE_SCHEMA, "e", "no. 3", serial=serial))
        assert any("b" in line for line in did(plan)) == there
        assert plan.complete == complete
        assert bool(plan.left_out) == (not there)


def test_a_step_printed_for_this_variant_is_not_limited_any_more() -> None:
    only = Applies(("E",), words="variant E only")
    made = machine(proc("a", step("1", applies=only, condition="variant E only")))
    engine = Engine(ENGINE_SCHEMA, "e", "no. 3", variant="E")
    assert make_plan(made, "a", engine).lines[1].only_if == ""
    assert make_plan(made, "a").lines[1].only_if == "variant E only"


def test_only_if_is_asked_and_the_answer_is_taken() -> None:
    made = machine(proc("a", "1", before=(ref("r", "b", only_if="the shaft is damaged"),)), proc("b", "1"))
    asked = make_plan(made, "a")
    assert did(asked) == ["question: r", "= a", "a.1"]
    assert "the shaft is damaged" in asked.lines[0].question
    assert not asked.complete
    assert did(make_plan(made, "a", None, answered("r", "yes"))) == ["= b", "b.1", "= a", "a.1"]
    no = make_plan(made, "a", None, answered("r", "no"))
    assert did(no) == ["= a", "a.1"]
    assert [one.subject for one in no.left_out] == ["r"]
    assert no.complete


@pytest.mark.parametrize("status", ["dangling", "self", "other book", "ambiguous", "doubtful"])
def test_a_reference_that_leads_nowhere_sure_is_open_until_settled(status: ReferenceStatus) -> None:
    to = ("b", "c") if status == "ambiguous" else ("b",) if status == "doubtful" else ()
    made = machine(proc("a", "1", before=(ref("r", *to, status=status),)), proc("b", "1"), proc("c", "1"))
    plan = make_plan(made, "a")
    assert not plan.complete
    assert [item.subject for item in plan.open] == ["r"]
    assert plan.open[0].kind == ("ambiguous" if status == "ambiguous" else "reference")
    assert plan.open[0].citations == made.procedures[0].before[0].citations
    assert ("= b" in did(plan)) == (status == "doubtful")
    aside = make_plan(made, "a", None, job(SetAside(id="e9", by="kim", reference="r", reason="looked")))
    assert aside.complete
    assert did(aside) == ["= a", "a.1"]
    assert [(one.subject, one.why, one.by, one.event) for one in aside.left_out] == [
        ("r", "looked", "kim", "e9")
    ]
    chosen = make_plan(made, "a", None, answered("r", "c"))
    assert chosen.complete
    assert did(chosen) == ["= c", "c.1", "= a", "a.1"]
    if status != "doubtful":
        assert not make_plan(made, "a", None, answered("r", "yes")).complete, "yes names no section"


def test_an_id_that_the_model_lacks_is_open() -> None:
    made = machine(proc("a", "1", before=(ref("r", "b", "gone"),)), proc("b", "1"))
    plan = make_plan(made, "a")
    assert did(plan) == ["= b", "b.1", "= a", "a.1"]
    assert "gone" in plan.open[0].words


def test_a_condition_in_words_is_a_line_and_a_part_said_to_be_off_finds_its_removal() -> None:
    from msgspec.structs import replace

    stand = replace(ref("r1", status="in words"), words="with the engine on a stand")
    fitted = replace(ref("r2", status="in words"), words="the actuators must already be fitted")
    off = replace(ref("r3", status="in words"), words="fuel tank removed")
    made = machine(
        proc("a", "1", before=(stand, fitted, off)),
        proc("b", "1", parts=("engine",)),
        proc("c", "1", parts=("actuators",)),
        proc("d", "1", parts=("fuel tank",)),
    )
    plan = make_plan(made, "a")
    assert did(plan) == ["condition: r1", "condition: r2", "= d", "d.1", "= a", "a.1"]
    assert plan.lines[2].required_by.because == "part named"
    assert plan.complete


def test_a_chapter_means_its_sections_and_one_with_work_both_ways_is_asked() -> None:
    def chapter(*procedures: str) -> tuple[Section, ...]:
        own = tuple(Section(f"m/section/{n}", n, n, 3, "m/section/4.1") for n in procedures)
        return (
            Section("m/section/4", "4", "x", 1),
            Section("m/section/4.1", "4.1", "x", 2, "m/section/4"),
            *own,
        )

    from msgspec.structs import replace

    a = proc("a", "1", before=(ref("r", "m/section/4"),))
    b, c = (replace(proc(f"m/{n}", "1"), number=n) for n in ("4.1.1", "4.1.2"))
    off = make_plan(machine(a, b, c, sections=chapter("4.1.1", "4.1.2")), "a")
    assert did(off) == ["= m/4.1.1", "m/4.1.1.1", "= m/4.1.2", "m/4.1.2.1", "= a", "a.1"]
    both = machine(a, b, replace(c, deed="install"), sections=chapter("4.1.1", "4.1.2"))
    assert did(make_plan(both, "a")) == ["question: r", "= a", "a.1"]


@pytest.mark.parametrize(
    ("made", "members"),
    [
        (machine(proc("a", "1", before=(ref("r", "a"),))), ("a",)),
        (machine(proc("a", step("1", ref("r", "a")))), ("a",)),
        (machine(proc("a", "1", before=(ref("r", "b"),)), proc("b", step("1", ref("s", "a")))), ("a", "b")),
        (machine(proc("a", before=(ref("r", "b"),)), proc("b", before=(ref("s", "a"),))), ("a", "b")),
    ],
)
def test_sections_that_need_each_other_are_named_and_lose_no_line(made, members) -> None:  # type: ignore[no-untyped-def]
    plan = make_plan(made, "a")
    steps = sum(len(procedure.steps) for procedure in made.procedures)
    assert sum(line.kind == "step" for line in plan.lines) == steps
    cycle = plan.open[0]
    assert (cycle.kind, cycle.members) == ("cycle", members)
    assert {one.place.pdf_page for one in cycle.citations} == {7}  # type: ignore[union-attr]
    assert [problem.code for problem in plan.problems if problem.code.startswith("LB-L")] == ["LB-L01"]
    aside = make_plan(
        made, "a", None, job(SetAside(id="e", by="kim", reference=cycle.subject, reason="misprint"))
    )
    assert aside.complete


def test_a_reference_back_to_finished_steps_is_no_circle() -> None:
    made = machine(
        proc("a", "1", "2", step("3", ref("r", "b"))),
        proc("b", "1", before=(ref("s", "a", steps=("1", "2")),)),
    )
    plan = make_plan(made, "a")
    assert did(plan) == ["= a", "a.1", "a.2", "= b", "b.1", "a.3"]
    assert plan.complete


def test_a_chain_of_five_thousand() -> None:
    depth = 5_000
    made = machine(
        *(proc(f"p{n}", step("1", ref(f"r{n}", f"p{n + 1}"))) for n in range(depth - 1)),
        proc(f"p{depth - 1}", "1"),
    )
    plan = make_plan(made, "p0")
    assert [line.id for line in plan.lines if line.kind == "step"] == [
        f"p{n}.1" for n in reversed(range(depth))
    ]
    assert len(why(plan.lines, f"p{depth - 1}.1")) == 2 * depth
    ring = machine(*(proc(f"p{n}", "1", before=(ref(f"r{n}", f"p{(n + 1) % depth}"),)) for n in range(depth)))
    round_ = make_plan(ring, "p0")
    assert len(round_.open[0].members) == depth
    assert len(round_.lines) == 2 * depth


def test_openings_carry_picture_question_and_their_warnings_and_steps_theirs() -> None:
    danger, hot = Caution("danger", "Springs."), Caution("caution", "Hot.")
    made = machine(proc("a", step("1", cautions=(hot,)), cautions=(danger,), figures=("f1",)))
    opening, first = make_plan(made, "a").lines
    assert (opening.cautions, opening.figures, first.cautions) == ((danger,), ("f1",), (hot,))
    assert "still on here?" in opening.question
    assert opening.required_by.because == "goal"
    assert first.required_by == type(first.required_by)("part of", "a")


def test_unread_pages_and_cut_off_files_keep_a_plan_open() -> None:
    dark = PageSeen("m", 12, "4-9", "unexplained", why="mostly a picture")
    made = machine(proc("a", "1"), pages=(PageSeen("m", 11), dark))
    plan = make_plan(made, "a")
    assert [item.kind for item in plan.open] == ["page"]
    assert "4-9" in plan.open[0].words
    cut = Problem("LB-F09", "The end of the file is missing.", "m.pdf", "Get it again.")
    assert [item.kind for item in make_plan(machine(proc("a", "1"), problems=(cut,)), "a").open] == ["page"]


def test_words_of_the_job_about_things_not_in_the_model_are_told() -> None:
    plan = make_plan(machine(proc("a", "1")), "a", None, answered("nothing-like-this", "yes"))
    assert [problem.code for problem in plan.problems] == ["LB-L02"]
