"""Marks of steps that only the book itself shows are learned from it; what only looks like one is not."""

from pathlib import Path

import pytest
import typst

from lastbolt.app.make_plan import make_plan
from lastbolt.app.read_sources import Paged, SourceFile, read_sources
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.words.machine import Machine
from paged import book, numbered

WORK = ("Drain the oil.", "Remove the screws M6 x 45.", "Remove the bolt M8 x 70.", "Lift the lever off.")
COUNTED = (
    "{}", "0{}", "{} -", "{}–", "{}:", "{}.)", "{}°", "{}/", "{}.0", "{}/4", "[{}]", "<{}>", "No. {}",
    "Op {}", "Op. {}:", "Operation {}", "5.1.{}", "5.1-{}", "5-1-{}", "5.1 ({})", "10{}",
)  # fmt: skip
SIGNS = (">", "»", "+", "~", "=", "|", "o", "x")
ROMAN = ("i", "ii", "iii", "iv")
PAPER = """
#set page(width: 148mm, height: 210mm, margin: 14mm)
#set text(size: 9pt, font: "New Computer Modern")
= 4 Gearcase
== 4.1 Separating the gearcase
"""
HANGING = (
    "Drain the oil and let it run out until nothing comes any more, which takes ten minutes when it is warm.",
    "Remove the screws M6 x 45.",
    "With the puller, draw off the shaft.",
    "Lift the cover off.",
)


def steps(*section: str) -> list[tuple[str, str]]:
    """Marks and words of the steps of section 5.1 with these paragraphs."""
    return [(step.mark, step.words) for step in numbered(book(*section), "5.1").steps]


def read(source: str, folder: Path) -> Machine:
    target = folder / "paper.pdf"
    (folder / "paper.typ").write_text(source, encoding="utf-8")
    typst.compile(str(folder / "paper.typ"), output=str(target))
    pages = read_pages(target, PdfSettings(source="paper"))
    return read_sources([Paged(SourceFile(target.name), pages)]).machine


@pytest.mark.parametrize("mark", COUNTED)
def test_numbers_that_count_up_are_marks(mark):
    found = steps(*(f"{mark.format(n)} {words}" for n, words in enumerate(WORK, 1)))
    start = 100 if mark == "10{}" else 0
    assert found == [(str(start + n), words) for n, words in enumerate(WORK, 1)]


@pytest.mark.parametrize("mark", ["{}", "{}.", "{})", "({})", "{}:", "[{}]"])
@pytest.mark.parametrize("numbers", [ROMAN, tuple(n.upper() for n in ROMAN)])
def test_roman_numbers_are_marks(mark, numbers):
    found = steps(*(f"{mark.format(n)} {words}" for n, words in zip(numbers, WORK, strict=True)))
    assert found == list(zip(numbers, WORK, strict=True))


@pytest.mark.parametrize("mark", ["{}:", "[{}]", "{}"])
def test_letters_are_marks(mark):
    letters = "ABCD"
    found = steps(*(f"{mark.format(n)} {words}" for n, words in zip(letters, WORK, strict=True)))
    assert found == list(zip(letters, WORK, strict=True))


@pytest.mark.parametrize("mark", SIGNS)
def test_a_sign_before_each_deed_is_a_bullet(mark):
    assert [words for _, words in steps(*(f"{mark} {words}" for words in WORK))] == list(WORK)


@pytest.mark.parametrize(("marks", "named"), [("A1 A2 A3 A4", "A1 A2 A3 A4"), ("1a 1b 1c 1d", "1a 1b 1c 1d")])
def test_marks_of_figures_and_letters_keep_both(marks, named):
    found = steps(*(f"{mark} {words}" for mark, words in zip(marks.split(), WORK, strict=True)))
    assert found == list(zip(named.split(), WORK, strict=True))


def test_steps_counted_in_tens_skip_nothing():
    machine = book(*(f"{n}0 {words}" for n, words in enumerate(WORK, 1)))
    assert [step.mark for step in numbered(machine, "5.1").steps] == ["10", "20", "30", "40"]
    assert "LB-R08" not in {problem.code for problem in machine.problems}


def test_a_missing_number_is_told():
    machine = book(f"[1] {WORK[0]}", f"[2] {WORK[1]}", f"[4] {WORK[3]}")
    assert [step.mark for step in numbered(machine, "5.1").steps] == ["1", "2", "4"]
    assert "LB-R08" in {problem.code for problem in machine.problems}


def test_sub_steps_stand_under_learned_marks():
    found = steps("1: Remove the screws:", "a. Slacken them.", "b. Take them out.", "2: Lift the lever off.")
    assert [mark for mark, _ in found] == ["1", "1a", "1b", "2"]


def test_the_only_step_of_a_section_bears_the_mark_of_the_others():
    machine = book(*(f"[{n}] {words}" for n, words in enumerate(WORK, 1)),
                   more=("## 5.2 Removing the guard", "[1] Remove the guard."))  # fmt: skip
    assert [step.words for step in numbered(machine, "5.2").steps] == ["Remove the guard."]


def test_a_number_in_the_middle_of_a_sentence_is_no_mark():
    found = steps(
        "1 Drain the oil and remove the covers, the lever, the guard, the belt, the fan, the shroud and the",
        "2 screws of the case.", "2 Remove the bolt M8 x 70.", "3 Lift the lever off.",
    )  # fmt: skip
    assert [mark for mark, _ in found] == ["1", "2", "3"]


@pytest.mark.parametrize(
    "names", [("1 Housing", "2 Cover plate", "3 Drain plug", "4 Lift lug", "5 Insert, threaded")]
)
def test_names_of_parts_are_no_steps(names):
    machine = book(f"1. {WORK[0]}", more=("## 5.2 Parts of the lever", *names))
    assert [one for one in machine.procedures if one.number == "5.2"] == []


@pytest.mark.parametrize("mark", ["[{}]", "{}:", "#{}", "4.1.{}", "Op {}0", "A{}", "+"])
def test_marks_that_stand_far_from_their_words(mark, tmp_path):
    rows = (
        f'#grid(columns: (16mm, 1fr), "{mark.format(n)}", [{words}])' for n, words in enumerate(HANGING, 1)
    )
    (procedure,) = read(PAPER + "\n".join(rows), tmp_path).procedures
    assert [step.words for step in procedure.steps] == list(HANGING)


def test_steps_of_two_levels_keep_their_numbers():
    found = steps("1 Drain:", "1.1 Undo the plug.", "1.2 Let the oil out.", "2 Part the case:",
                  "2.1 Remove the screws.", "2.2 Lift the lid.")  # fmt: skip
    assert [mark for mark, _ in found] == ["1", "1.1", "1.2", "2", "2.1", "2.2"]


def test_levels_without_their_heads_keep_their_numbers():
    found = steps("1.1 Undo the plug.", "1.2 Let the oil out.", "2.1 Remove the screws.", "2.2 Lift the lid.")
    assert [mark for mark, _ in found] == ["1.1", "1.2", "2.1", "2.2"]


def test_captions_are_no_steps():
    found = steps(
        "1. Drain the oil.", "2. Lift the lever off.", "Fig. 1 Remove the bearing.", "Fig. 2 Lift it off."
    )
    assert [mark for mark, _ in found] == ["1", "2"]


def test_a_step_is_pointed_at_by_its_whole_number():
    frame = ("## 5.2 Removing the frame", "5.2.1 Undo the nut.", "5.2.2 Remove the frame.")
    lever = ("5.1.1 Remove the pin, see 5.2.2.", "5.1.2 Turn the lever over.", "5.1.3 Repeat 5.1.1 there.")
    machine = book(*lever, more=frame)
    first, _, third = numbered(machine, "5.1").steps
    (reference,) = first.references
    assert (reference.role, reference.status, reference.to) == ("before", "resolved", ("book/procedure/5.2",))
    (reference,) = third.references
    assert (reference.role, reference.status, reference.from_step) == ("see", "resolved", "1")
    assert make_plan(machine, "5.1").complete


def test_contents_of_a_chapter_are_no_steps():
    lines = ("1 Remove the frame ... 12", "2 Remove the lever ... 14", "3 Drain the oil ... 15")
    machine = book("1. Lift off the lever.", more=("## 5.2 In this chapter", *lines))
    assert [one for one in machine.procedures if one.number == "5.2"] == []
