"""Work that a sentence names by its section's title is followed, or is an open point; never lost."""

import pytest
from msgspec.structs import replace

from lastbolt.app.make_plan import make_plan
from lastbolt.words.job import JOB_SCHEMA, Job, QuestionAnswered
from lastbolt.words.machine import Applies, Deed, Machine, Mention, Procedure, Section, Step
from lastbolt.words.plan import Plan
from planned import machine, page, proc, ref


def said(mark: str, words: str, *mentions: tuple[str, Deed], **more: object) -> Step:
    """A step in these words, naming these parts."""
    named = tuple(Mention(name, deed) for name, deed in mentions)
    deeds = tuple(dict.fromkeys(deed for _, deed in mentions)) or ("other",)
    return Step(mark or "lead", mark, words, deeds, named, citations=page(8, words), **more)  # type: ignore[arg-type]


GUARD = proc("guard", "1", title="Taking off the belt guard", parts=("belt guard",))
DRAIN = proc("drain", "a", title="Draining the body", deed="drain", parts=("body",))
ISOLATE = proc("isolate", "1", title="Isolating the drive", deed="other", parts=("drive",))


def goal(*steps: Step, text: str = "") -> Procedure:
    return proc("goal", *steps, title="Opening the pump body", deed="other", text=text)


def plan_of(*procedures: Procedure) -> Plan:
    return make_plan(machine(*procedures), "goal")


def sections(plan: Plan) -> list[str]:
    return [line.procedure for line in plan.lines if line.kind == "opening"]


def test_a_sentence_before_the_first_step_brings_the_sections_it_names() -> None:
    lead = said("", "First take off the belt guard and drain the body.", ("belt guard", "remove"),
                ("body", "drain"))  # fmt: skip
    plan = plan_of(goal(lead, said("1", "Pull the halves apart.")), GUARD, DRAIN)
    assert sections(plan) == ["guard", "drain", "goal"]
    assert plan.complete
    opening = next(line for line in plan.lines if line.procedure == "guard")
    assert opening.required_by.words == lead.words


def test_words_of_a_title_bring_its_section_and_so_on_down() -> None:
    guard = replace(GUARD, text="First isolate the drive.")
    lead = said("", "First take off the belt guard (this page).", ("belt guard", "remove"))
    plan = plan_of(goal(lead, said("1", "Lift the belt off.")), ISOLATE, guard)
    assert sections(plan) == ["isolate", "guard", "goal"]


def test_a_see_whose_words_are_the_title_there_binds() -> None:
    see = replace(ref("r", "isolate", role="see"), words="First isolate the drive (page 1).")
    plan = plan_of(replace(goal(said("1", "Lift it.")), before=(see,)), ISOLATE)
    assert sections(plan) == ["isolate", "goal"]


def test_a_see_for_values_still_brings_nothing() -> None:
    see = replace(ref("r", "isolate", role="see"), words="Torques stand on page 4.")
    plan = plan_of(replace(goal(said("1", "Lift it.")), before=(see,)), ISOLATE)
    assert sections(plan) == ["goal"]
    assert plan.complete


def test_a_numbered_step_that_names_another_sections_work_is_open() -> None:
    step = said("4", "Take the belt guard off.", ("belt guard", "remove"))
    plan = plan_of(goal(said("1", "Mark it."), step), GUARD)
    assert sections(plan) == ["goal"]
    (point,) = plan.open
    assert "Taking off the belt guard is not in this plan" in point.words
    job = Job(
        JOB_SCHEMA,
        "j",
        "a",
        events=(QuestionAnswered(id="e", by="kim", question=point.subject, answer="yes"),),
    )
    answered = make_plan(machine(goal(said("1", "Mark it."), step), GUARD), "goal", None, job)
    assert [line.id for line in answered.lines if line.kind == "step"] == ["goal.1", "guard.1", "goal.4"]
    assert answered.complete


def test_a_numbered_step_that_begins_with_first_binds() -> None:
    step = said("1", "First drain the body.", ("body", "drain"))
    assert sections(plan_of(goal(step), DRAIN)) == ["goal", "drain"]


def test_it_is_not_asked_when_its_section_is_in_the_plan() -> None:
    step = said("4", "Lift the belt guard away.", ("belt guard", "remove"))
    plan = plan_of(replace(goal(step), before=(ref("r", "guard"),)), GUARD)
    assert plan.complete


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("Do not remove the belt guard.", "belt guard"),
        ("Remove the belt guard with its bracket (see 7.7).", "belt guard"),
        ("Remove the guard screws.", "guard screws"),
        ("Remove the guard.", "guard"),
    ],
)
def test_other_words_name_no_section(words: str, name: str) -> None:
    step = said("4", words, (name, "remove"))
    if "7.7" in words:
        step = replace(step, references=(ref("r", "7.7"),))
    other = proc("7.7", "1", title="Guard and bracket", parts=("belt guard with bracket",))
    plan = plan_of(goal(step), GUARD, other)
    assert "guard" not in sections(plan)
    assert plan.complete


def test_a_section_does_not_name_itself_nor_what_stands_on_it() -> None:
    own = said("1", "Remove the belt guard.", ("belt guard", "remove"))
    needs = proc(
        "guard", own, title="Taking off the belt guard", parts=("belt guard",), before=(ref("r", "goal"),)
    )
    step = said("2", "Take the belt guard off.", ("belt guard", "remove"))
    assert plan_of(goal(step), needs).complete
    assert make_plan(machine(replace(needs, before=()), goal(said("1", "Lift."))), "guard").complete


def test_two_sections_of_one_name_are_a_question_unless_the_variant_decides() -> None:
    one = replace(GUARD, id="guard E", applies=Applies(("E",)))
    two = replace(GUARD, id="guard H", applies=Applies(("H",)))
    lead = said("", "First take off the belt guard.", ("belt guard", "remove"))
    made: Machine = machine(goal(lead, said("1", "Lift.")), one, two)
    plan = make_plan(made, "goal")
    assert not plan.complete
    assert any(set(point.choices) == {"guard E", "guard H"} for point in plan.open)
    job = Job(JOB_SCHEMA, "j", "a", variant="H")
    assert sections(make_plan(made, "goal", None, job)) == ["guard H", "goal"]


@pytest.mark.parametrize("title", ["Steering gear", "Bearing housing", "Coupling element", "Lifting eye"])
def test_a_thing_whose_name_ends_like_a_deed_is_no_work(title: str) -> None:
    thing = proc("thing", "1", title=title, deed="other", parts=(title.lower(),))
    lead = said("", f"First look at the {title.lower()}.")
    assert sections(plan_of(goal(lead, said("1", "Lift it.")), thing)) == ["goal"]


def test_a_step_that_points_for_itself_is_asked_only_about_where_it_points() -> None:
    step = said("4", "Take the belt guard off (see BELT GUARDS).", ("belt guard", "remove"))
    dangling = replace(ref("r", status="dangling"), words=step.words)
    plan = plan_of(goal(replace(step, references=(dangling,))), GUARD)
    assert [point.subject for point in plan.open] == ["r"]


def general(text: str) -> Section:
    return Section("m/section/1.1", "1.1", "General", 2, text=text, citations=page(1, text))


@pytest.mark.parametrize(
    "text",
    [
        "Before any work on the hoist, isolate the drive. Wear gloves.",
        "Wear gloves. Before any work the drive must be isolated.",
        "Before all work carry out section 1.4.",
    ],
)
def test_a_general_sentence_on_any_work_brings_the_section_that_it_names(text: str) -> None:
    isolate = replace(ISOLATE, number="1.4")
    drain = proc("3.1", "1", title="Draining the oil", deed="drain")
    made = machine(goal(said("1", "Lift it.")), drain, isolate, sections=(general(text),))
    top = replace(made.procedures[0], before=(ref("r", "3.1"),))
    plan = make_plan(replace(made, procedures=(top, *made.procedures[1:])), "goal")
    assert sections(plan) == ["isolate", "3.1", "goal"]
    assert plan.complete
    asked = plan.lines[0].required_by
    assert asked.citations == page(1, text)


def test_a_general_sentence_brings_nothing_to_the_work_that_it_names_or_that_it_needs() -> None:
    isolate = replace(ISOLATE, before=(ref("r", "cool"),))
    cool = proc("cool", "1", title="Letting the hoist cool", deed="other")
    made = machine(isolate, cool, sections=(general("Before any work isolate the drive."),))
    for one in ("isolate", "cool"):
        assert make_plan(made, one).complete


def test_a_general_sentence_on_taking_off_stays_a_warning() -> None:
    text = "Before any work on the brake take off the belt guard (1.4)."
    made = machine(goal(said("1", "Lift it.")), replace(GUARD, number="1.4"), sections=(general(text),))
    plan = make_plan(made, "goal")
    assert sections(plan) == ["goal"]
    assert [item.words for item in plan.general] == [text]


@pytest.mark.parametrize(
    ("words", "condition"),
    [
        ("If the belt runs hot, first take off the belt guard.", ""),
        ("First take off the belt guard, if fitted.", "if fitted"),
    ],
)
def test_work_that_is_named_under_a_condition_is_a_question(words: str, condition: str) -> None:
    lead = said("", words, ("belt guard", "remove"), condition=condition)
    plan = plan_of(goal(lead, said("1", "Lift it.")), GUARD)
    assert sections(plan) == ["goal"]
    (point,) = plan.open
    assert point.kind == "question"
    assert point.choices == ("guard",)


@pytest.mark.parametrize(
    "words",
    [
        "First isolate the drive and do not switch it on again.",
        "First isolate the drive; never rely on the brake.",
        "First isolate the drive. If in doubt ask.",
        "Lay the tools ready. First isolate the drive, not the pump.",
        "First the drive must be isolated without switching off the light.",
    ],
)
def test_a_not_or_if_that_is_not_of_the_title_takes_nothing_away(words: str) -> None:
    plan = plan_of(goal(said("", words), said("1", "Lift it.")), ISOLATE)
    assert sections(plan) == ["isolate", "goal"]
    assert plan.complete
    of_text = plan_of(goal(said("1", "Lift it."), text=words), ISOLATE)
    assert sections(of_text) == ["isolate", "goal"]


@pytest.mark.parametrize(
    "words",
    [
        "Never start before isolating the drive.",
        "Do not lift the body without isolating the drive.",
        "Do not run it hot and isolate the drive.",
        "Do not forget to isolate the drive.",
        "First isolate the drive when the winch is cold.",
    ],
)
def test_where_it_is_in_doubt_whether_the_title_is_asked_for_a_point_is_open(words: str) -> None:
    for plan in (
        plan_of(goal(said("", words), said("1", "Lift it.")), ISOLATE),
        plan_of(goal(said("1", "Lift it."), text=words), ISOLATE),
    ):
        assert sections(plan) == ["goal"]
        (point,) = plan.open
        assert "isolate" in point.choices
        assert words in point.words


@pytest.mark.parametrize(
    "words",
    ["Do not isolate the drive.", "There is no need to isolate the drive.", "Don’t isolate the drive."],
)
def test_work_that_a_sentence_plainly_says_not_to_do_is_not_asked_for(words: str) -> None:
    plan = plan_of(goal(said("", words), said("1", "Lift it.")), ISOLATE)
    assert sections(plan) == ["goal"]
    assert plan.complete


def test_a_question_about_a_case_names_the_case_alone() -> None:
    plan = plan_of(
        goal(said("", "First isolate the drive when the winch is cold."), said("1", "Lift it.")), ISOLATE
    )
    (point,) = plan.open
    assert "Is it so: when the winch is cold? First isolate the drive when the winch is cold." in point.words
