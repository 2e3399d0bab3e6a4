"""Books whose paragraphs are counted through a chapter; headings underlined and without numbers."""

import pytest
import typst

from lastbolt.app.read_sources import Paged, SourceFile, read_sources
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.words.machine import Machine

PAPER = """
#set page(width: 148mm, height: 210mm, margin: 14mm)
#set text(size: 9pt, font: "DejaVu Sans Mono")
#let chapter(number, title) = align(center)[#underline(offset: 2pt)[CHAPTER #number] \\
  #v(1mm) #underline(offset: 2pt)[#title]]
#let heading(title) = block(above: 5mm)[#underline(offset: 2pt)[#title]]
#let para(number, words) = block(above: 3mm)[#number.#h(6mm)#words]
#let figure-of(number, legend) = block[#rect(width: 60mm, height: 24mm)[#circle(radius: 6mm)] \\
  Fig. #number.- The lid. \\ #v(1mm) #legend]
#let warning(words) = block(inset: (x: 14mm))[WARNING.- #words]
#chapter("I", "THE PUMP")
#heading[Removing the lid]
#figure-of("1", [1. Lid. 2. Long spring of the relief valve. 3. Nut. 4. Bolt. 5. Set \\ screw.])
#warning[The lid is heavy.]
#para(1)[Undo the six nuts.]
#para(2)[Remove the wheel (see Chap. II, para. 1).]
#warning[The spring is strong.]
#para(3)[Take off the lid.]
#heading[Installing the lid]
Refitting is the reverse of removal.
#warning[Use no petrol.]
#para(4)[Clean the faces.]
#para(5)[Do the work of Chap. II, paras. 1 to 4, and repeat paras. 4 and 5.]
#para(6)[Tighten the nuts as described in para. 12.]
#pagebreak()
#chapter("II", "THE WHEEL")
#heading[Removing the wheel]
#warning[The wheel is heavy.]
#para(1)[Undo the nut.]
#para(2)[Draw off the wheel. On completion install the lid as described in Chap. I, para. \\ 4.]
#heading[Dismantling the wheel]
#para(3)[Take out the ring.]
#para(4)[Knock out the pin (see para. 1).]
"""


@pytest.fixture(scope="module")
def machine(tmp_path_factory: pytest.TempPathFactory) -> Machine:
    folder = tmp_path_factory.mktemp("counted")
    written, target = folder / "paper.typ", folder / "paper.pdf"
    written.write_text(PAPER, encoding="utf-8")
    typst.compile(str(written), output=str(target))
    pages = read_pages(target, PdfSettings(source="paper"))
    return read_sources([Paged(SourceFile(target.name), pages)]).machine


def _to(machine: Machine, mark: str) -> list[tuple[str, ...]]:
    titles = {one.id: one.title for one in machine.procedures}
    steps = [s for p in machine.procedures if p.title.startswith("Removing the lid") or mark != "1"
             for s in p.steps if s.mark == mark]  # fmt: skip
    return [tuple(titles.get(to, to) for to in r.to) for r in steps[0].references]


def test_underlined_headings_and_chapters_in_roman_numbers(machine: Machine) -> None:
    assert [(s.number, s.title, s.level) for s in machine.sections] == [
        ("I", "THE PUMP", 1), ("", "Removing the lid", 2), ("", "Installing the lid", 2),
        ("II", "THE WHEEL", 1), ("", "Removing the wheel", 2), ("", "Dismantling the wheel", 2),
    ]  # fmt: skip


def test_paragraphs_go_on_counting_below_the_next_heading(machine: Machine) -> None:
    """A number at the head of a wrapped line ("para." and below it "4.") begins none."""
    marks = [[step.mark for step in one.steps if step.mark] for one in machine.procedures]
    assert marks == [["1", "2", "3"], ["4", "5", "6"], ["1", "2"], ["3", "4"]]


def test_a_legend_in_one_run_is_no_step(machine: Machine) -> None:
    assert not [s for p in machine.procedures for s in p.steps if "spring" in s.words or "screw" in s.words]


def test_paragraphs_of_a_chapter_lead_to_their_section(machine: Machine) -> None:
    assert _to(machine, "2") == [("Removing the wheel",)]
    step = machine.procedures[1].steps[2]
    assert step.mark == "5"
    run, again = step.references
    assert run.to == tuple(one.id for one in machine.procedures[2:])
    assert (again.to, again.from_step, again.to_step) == ((machine.procedures[1].id,), "4", "5")


def test_a_paragraph_that_the_chapter_lacks_dangles(machine: Machine) -> None:
    assert [r.status for r in machine.procedures[1].steps[3].references] == ["dangling"]


def test_reverse_of_removal_is_not_that_of_dismantling(machine: Machine) -> None:
    (reverse,) = [r for s in machine.procedures[1].steps for r in s.references if r.role == "reverse of"]
    assert reverse.to == (machine.procedures[0].id,)


def test_where_cautions_open_sections_and_end_none_they_are_for_the_step_below(machine: Machine) -> None:
    """Indented like this one could be more of the step above; the book's other cautions tell."""
    steps = machine.procedures[0].steps
    assert [[c.words for c in s.cautions] for s in steps] == [[], [], ["The spring is strong."]]
    assert [c.words for c in machine.procedures[0].cautions] == ["The lid is heavy."]
