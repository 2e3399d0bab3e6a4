"""Every line, warning, count, page and open point of a plan stands in its export, in order."""

import re

import pytest
from content_models import DITA, S1000D, faults
from msgspec.structs import replace
from plans import FORMS, Made, every_kind, text_of, tree_of

from lastbolt.app.make_plan import make_plan
from lastbolt.words.machine import Caution, Section, TorqueValue
from lastbolt.words.plan import Fastening, NewPart, Return, WayBack
from lastbolt.words.supplies import Consumable, Tool
from lastbolt.words.tree import Element
from planned import machine, page, proc

STEP = {"dita": "step", "s1000d": "proceduralStep"}
PLACE = "Shop manual, printed page 4-8, PDF page 8"


def lines_of(root: Element, form: str) -> list[Element]:
    """The elements that stand for lines of the plan, in order."""
    steps = list(root.below(STEP[form]))
    return steps if form == "dita" else [one for one in steps if one.child("para") is not None]


@pytest.mark.parametrize("form", FORMS)
def test_every_line_but_an_opening_is_one_step_in_order(form: str) -> None:
    made = every_kind()
    wanted = [n for n, line in enumerate(made.plan.lines, 1) if line.kind != "opening"]
    steps = lines_of(tree_of(text_of(made, form)), form)
    assert [int(re.findall(r"\d+", one.get("id"))[0]) for one in steps] == wanted
    for step, number in zip(steps, wanted, strict=True):
        line = made.plan.lines[number - 1]
        assert (line.words if line.kind != "question" else line.question) in step.words()


@pytest.mark.parametrize("form", FORMS)
def test_warnings_stand_before_the_words_of_their_step(form: str) -> None:
    steps = lines_of(tree_of(text_of(every_kind(), form)), form)
    second = next(one for one in steps if "Do step 2." in one.words())
    said = second.words()
    for warned in ("Keep the shims.", "Hot oil."):
        assert said.index(warned) < said.index("Do step 2.")
    names = [child.name for child in second.children()]
    first_words = names.index("cmd" if form == "dita" else "para")
    assert {"note", "warning", "caution"}.isdisjoint(names[first_words:])


@pytest.mark.parametrize("form", FORMS)
def test_a_procedures_own_warning_stands_before_its_first_step(form: str) -> None:
    text = text_of(every_kind(), form)
    assert text.index("Never lever on the faces.") < text.index("Do step 1.")
    assert text.count("Never lever on the faces.") == 1


@pytest.mark.parametrize("form", FORMS)
def test_what_the_words_do_not_say_is_said_beside_them(form: str) -> None:
    steps = lines_of(tree_of(text_of(every_kind(), form)), form)
    said = next(one.words() for one in steps if "Do step 2." in one.words())
    for fact in (
        "7 x case screw.", "Torque: 24 N·m.", "Left-hand thread.", "Locked: lock wire.",
        "Must be new when it goes back: gasket.", "Read with doubt: the figure is smudged.",
    ):  # fmt: skip
        assert fact in said


@pytest.mark.parametrize("form", FORMS)
def test_what_the_words_say_is_not_said_twice(form: str) -> None:
    made = every_kind()
    words = "Remove the seven case screws with the left-hand thread and the lock wire, later 24 N·m."
    lines = tuple(
        replace(one, words=words, renew=()) if one.words == "Do step 2." else one for one in made.plan.lines
    )
    text = text_of(Made(made.machine, replace(made.plan, lines=lines)), form)
    for fact in ("7 x case screw", "Torque:", "Left-hand thread.", "Locked:"):
        assert fact not in text


@pytest.mark.parametrize("form", FORMS)
def test_an_open_plan_says_so_and_names_every_point(form: str) -> None:
    made = every_kind()
    assert made.plan.open
    assert not made.plan.complete
    root = tree_of(text_of(made, form))
    assert "This plan is not complete." in root.words()
    name = "reqcond" if form == "dita" else "reqCond"
    conditions = [one.words() for one in root.below(name)]
    for point in made.plan.open:
        assert any(" ".join(point.words.split()) in one for one in conditions)
        assert point.do in root.words()


@pytest.mark.parametrize("form", FORMS)
def test_a_complete_plan_does_not_say_that_it_is_not(form: str) -> None:
    made = every_kind(complete=True)
    assert made.plan.complete
    said = tree_of(text_of(made, form)).words()
    assert "not complete" not in said.lower()
    assert "Complete." in said


@pytest.mark.parametrize("form", FORMS)
def test_a_procedure_already_done_is_a_line_to_confirm(form: str) -> None:
    steps = lines_of(tree_of(text_of(every_kind(), form)), form)
    said = next(one.words() for one in steps if "Confirm off: Removing the guard" in one.words())
    assert "Ticked by Kim." in said
    assert "Is it still off, and nothing put back?" in said


@pytest.mark.parametrize("form", FORMS)
def test_the_page_behind_each_line_is_there(form: str) -> None:
    root = tree_of(text_of(every_kind(), form))
    if form == "dita":
        for step in root.below("step"):
            command = step.child("cmd")
            assert command is not None
            assert [one.get("value") for one in command.children("data")]
        assert PLACE in {one.get("value") for one in root.below("data")}
        return
    remarks = [one.words() for block in root.below("remarks") for one in block.children()]
    for number, group in enumerate(root.first("mainProcedure").children(), 1):  # type: ignore[union-attr]
        for index, step in enumerate(group.children("proceduralStep"), 1):
            line = int(step.get("id").removeprefix("stp-"))
            told = f"Step {number}.{index}, line {line} of the plan: "
            assert [one for one in remarks if one.startswith(told)]
    assert any(PLACE in one for one in remarks)


@pytest.mark.parametrize("form", FORMS)
def test_tools_supplies_spares_and_the_way_back(form: str) -> None:
    made = every_kind()
    back = WayBack(
        (
            Return("case half", "9.1.3", "none", off_citations=page(8)),
            Return("fan", "4.4.1", "procedure", ("5.5",), ("the lower screw last",)),
            Return("key", "4.4.1", "reverse of removal"),
        ),
        ("5.5",),
        (NewPart("gasket", part_numbers=("Z-77",), citations=page(8)),),
        (Fastening("Tighten crosswise.", "9.1", "case", "its own section", "9.2", "3", citations=page(8)),),
    )
    root = tree_of(text_of(Made(made.machine, replace(made.plan, way_back=back)), form))
    names = {"dita": ("supequi", "supply", "spare", "closereqs"),
             "s1000d": ("supportEquipDescr", "supplyDescr", "spareDescr", "closeRqmts")}[form]  # fmt: skip
    tools, supplies, spares, after = ([one.words() for one in root.below(name)] for name in names)
    assert tools == ["hoist", "Puller Z-1"], "each tool once"
    assert supplies == ["thread sealant"]
    assert spares == ["gasket (Z-77)"]
    assert "9.2 step 3: Tighten crosswise." in after[0]
    assert "No source says how this goes back on: case half." in after[0]
    assert "5.5 Removing the duct: fan (except: the lower screw last)." in after[0]
    assert "In the reverse of removal: key." in after[0]


def test_dita_leaves_out_what_no_source_names() -> None:
    """An empty list says "none"; that nobody named any is another thing."""
    whole = machine(proc("9.1", "1"))
    root = tree_of(text_of(Made(whole, make_plan(whole, "9.1")), "dita"))
    assert not list(root.below("supequip", "supplies", "spares", "noconds", "nosupeq"))


@pytest.mark.parametrize("form", FORMS)
def test_a_section_in_which_no_step_was_read_has_a_line(form: str) -> None:
    warned = proc("9.1", cautions=(Caution("warning", "Hot.", page(3)),))
    whole = machine(warned)
    made = Made(whole, make_plan(whole, "9.1"))
    (only,) = lines_of(tree_of(text_of(made, form)), form)
    assert "no step of this section was read" in only.words()
    assert "Hot." in text_of(made, form)


@pytest.mark.parametrize("form", FORMS)
def test_before_force_the_export_says_stop(form: str) -> None:
    from lastbolt.planning.force import stops

    goal = proc("9.1", "1", "2", deed="separate")
    steps = (goal.steps[0], replace(goal.steps[1], words="Press evenly until the joint opens."))
    whole = machine(replace(goal, steps=steps))
    made = Made(whole, make_plan(whole, "9.1"))
    assert stops(made.plan) == {"9.1.2"}
    steps_out = lines_of(tree_of(text_of(made, form)), form)
    assert [("STOP." in one.words()) for one in steps_out] == [False, True]


@pytest.mark.parametrize("form", FORMS)
def test_a_line_for_some_engines_says_for_which(form: str) -> None:
    made = every_kind()
    lines = tuple(
        replace(one, only_if="variant E") if one.words == "Do step 3." else one for one in made.plan.lines
    )
    assert "Only if variant E: Do step 3." in text_of(
        Made(made.machine, replace(made.plan, lines=lines)), form
    )


SAFETY = "Block the winch drum before the case is opened."


@pytest.mark.parametrize("form", FORMS)
def test_the_warnings_for_all_work_stand_among_the_safety_conditions(form: str) -> None:
    made = every_kind()
    section = Section("m/section/1.1", "1.1", "Safety", 2, text=SAFETY, citations=page(8))
    hot = Caution("danger", "Let it cool before any work.", page(8))
    begin = proc("1.2", "1", title="Before you begin", deed="other", cautions=(hot,))
    whole = replace(made.machine, sections=(section,), procedures=(*made.machine.procedures, begin))
    plan = make_plan(whole, "9.1")
    assert [item.words for item in plan.general] == [SAFETY, hot.words]
    root = tree_of(text_of(Made(whole, plan), form))
    assert faults(root, DITA if form == "dita" else S1000D) == []
    if form == "dita":
        notes = [one for part in root.below("safecond") for one in part.below("note")]
        said = {one.get("type"): one.words() for one in notes if one.get("type") != "note"}
        assert said == {"warning": f"Safety: {SAFETY}", "danger": hot.words}
        assert PLACE in {one.get("value") for part in root.below("safecond") for one in part.below("data")}
    else:
        (safety,) = root.below("safetyRqmts")
        warned = [one.words() for one in safety.below("warning")]
        assert warned == [f"Safety: {SAFETY}", f"DANGER: {hot.words}"]
        remarks = " ".join(one.words() for one in root.below("remarks"))
        assert f"For all work: Safety: {SAFETY} ({PLACE})" in remarks


@pytest.mark.parametrize("form", FORMS)
def test_all_that_the_plan_lays_ready_is_there_once(form: str) -> None:
    """What steps use up, and tools by the names of their table, as the plan's own list has them."""
    made = every_kind()
    (first, *rest) = made.machine.procedures
    grease = Consumable("g", "grease", "grease", how="thin film")
    steps = (replace(first.steps[0], consumables=(grease,)), *first.steps[1:])
    tools = (Tool("t", "Hub puller", "Z-1"),)
    whole = replace(made.machine, procedures=(replace(first, steps=steps), *rest), tools=tools)
    plan = make_plan(whole, "9.1")
    root = tree_of(text_of(Made(whole, plan), form))
    names = ("supequi", "supply") if form == "dita" else ("supportEquipDescr", "supplyDescr")
    tools_said, supplies = ([one.words() for one in root.below(name)] for name in names)
    assert (
        tools_said
        == [item.words for item in plan.ready if item.kind == "tool"]
        == ["hoist", "Hub puller Z-1"]
    )
    assert supplies == [item.words for item in plan.ready if item.kind == "supply"]
    assert "grease, thin film" in supplies


@pytest.mark.parametrize("form", FORMS)
def test_the_torques_of_the_joint_and_of_all_else_are_on_the_way_back(form: str) -> None:
    made = every_kind()
    value = TorqueValue((24.0, 24.0), ((24.0, 24.0, "N·m"),), words="24 N·m")
    back = WayBack(
        fastenings=(
            Fastening("Case screws", "9.1", "case screw", "its name", row="t1", torques=(value,)),
            Fastening("Fan bolts", "4.4", "bolt", "its size", row="t2", torques=(value,), citations=page(8)),
        )
    )
    root = tree_of(text_of(Made(made.machine, replace(made.plan, way_back=back)), form))
    (after,) = root.below("closereqs" if form == "dita" else "closeRqmts")
    assert "torque table: Case screws: 24 N·m" in after.words()
    assert "torque table: Fan bolts: 24 N·m" in after.words()
