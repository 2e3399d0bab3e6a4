"""The cautions of a sheet: the manual's general ones first, those of the checklist not twice."""

from lastbolt.app.safety_shown import USUAL, safety_shown
from lastbolt.app.shown import Shown
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import Caution, Machine, Procedure, Section, Step
from lastbolt.words.plan import Line, Plan, RequiredBy

ROPE = "A rope under load kills."
AT = (Citation("m", PdfPlace(1, "1-1")),)


def said(machine: Machine, plan: Plan | None = None) -> list[tuple[str, str]]:
    plan = plan or Plan("lastbolt.plan/1", "goal")
    return [(c.signal, c.words) for c in safety_shown(machine, plan, Shown(machine))]


def machine(section: Section | None = None, *procedures: Procedure) -> Machine:
    return Machine("lastbolt.model/1", "w", sections=(section,) if section else (), procedures=procedures)


def test_without_a_manual_the_usual_cautions_fit_any_machine() -> None:
    words = " ".join(caution.words for caution in USUAL).lower()
    assert said(machine()) == [(c.signal, c.words) for c in USUAL]
    assert not {"engine", "battery", "gearcase"} & set(words.replace(",", " ").replace(".", " ").split())


def test_a_section_about_safety_stands_first_with_its_page() -> None:
    found = said(machine(Section("m/1.2", "1.2", "Safety", 2, text=ROPE, citations=AT)))
    assert found[0] == ("safety", f"{ROPE} (m, printed page 1-1, PDF page 1)")
    assert len(found) == 1 + len(USUAL)


def test_general_warnings_are_shown_and_those_of_a_task_are_not() -> None:
    caution = (Caution("warning", "Warning: It swings.", AT),)
    steps = (Step("s", "1", "Keep the place clean."),)
    general = Procedure(
        "m/1.3", "1.3", "Before you begin", steps=steps, cautions=caution, chapter="1 General"
    )
    task = Procedure("m/4.3", "4.3", "Pump: removal", "remove", steps=steps, cautions=caution)
    assert said(machine(None, general))[0] == ("warning", "It swings. (m, printed page 1-1, PDF page 1)")
    assert len(said(machine(None, task))) == len(USUAL)


def test_what_the_checklist_says_is_not_said_twice() -> None:
    caution = Caution("warning", "It swings.")
    general = Procedure("m/1.3", "1.3", "General", cautions=(caution,))
    line = Line("m/1.3", "opening", "m/1.3", RequiredBy("goal"), cautions=(caution,))
    assert len(said(machine(None, general), Plan("lastbolt.plan/1", "goal", lines=(line,)))) == len(USUAL)


def test_a_long_text_ends_with_a_whole_sentence() -> None:
    text = " ".join(f"Sentence number {n} about what can hurt." for n in range(40))
    found = said(machine(Section("m/1.2", "1.2", "Safety", 2, text=text, citations=AT)))[0][1]
    assert "More on the page: (m, printed page 1-1" in found
    assert len(found) < 520
