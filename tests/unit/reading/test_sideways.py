"""Words set sideways: told where they stand beside the lines, read where a whole page or table is turned."""

from pathlib import Path

import pytest

from failure.made_pdf import Page, made_pdf, text_at, typeset_pdf
from lastbolt.cli.read import read_files
from lastbolt.edge.pdf_in import read_pages
from lastbolt.reading.sideways import straightened, turned_box
from lastbolt.words.citation import Box, PdfPlace
from lastbolt.words.machine import Machine
from lastbolt.words.page import PageLayout

STEPS = (
    "#set page(width: 15cm, height: 20cm)\n= 4.2 Opening the gearcase\n"
    "+ Drain the oil.\n+ Remove the 7 screws M6 x 45.\n"
)
WARNING = "WARNING: do not pull before the bolt M8 x 72 is out"
SIDE = f"#place(right + horizon, dx: 1.2cm, rotate(ANGLE, reflow: true)[{WARNING}])\n"
SECTION = (
    "= 4.3 Removing the pump bracket\nWARNING: The spring is under load.\n"
    "+ Remove the two bolts M8 x 70, see 4.2.\n+ Tighten them to 37 N·m.\n+ Take the bracket off.\n"
)


def model_of(folder: Path, markup: str) -> Machine:
    """The pages as a model."""
    typeset_pdf(folder / "manual.pdf", markup)
    return read_files([folder / "manual.pdf"]).machine


def told(machine: Machine, code: str) -> list[str]:
    """What the problems with a code say."""
    return [problem.what for problem in machine.problems if problem.code == code]


@pytest.mark.parametrize("angle", ["90deg", "-90deg", "180deg", "-45deg"])
def test_words_beside_the_steps_are_told_in_their_order(tmp_path: Path, angle: str) -> None:
    machine = model_of(tmp_path, STEPS + SIDE.replace("ANGLE", angle))
    (what,) = told(machine, "LB-R21")
    assert f'"{WARNING}"' in what
    assert [page.state for page in machine.pages] == ["unexplained"]
    assert [step.words for step in machine.procedures[0].steps] == [
        "Drain the oil.",
        "Remove the 7 screws M6 x 45.",
    ]


@pytest.mark.parametrize("angle", ["90deg", "-90deg"])
def test_two_sideways_lines_are_one_block(tmp_path: Path, angle: str) -> None:
    words = f"#box(width: 6cm)[{WARNING}, and not before]"
    side = f"#place(right + top, dx: 1cm, rotate({angle}, reflow: true)[{words}])\n"
    (what,) = told(model_of(tmp_path, STEPS + side), "LB-R21")
    assert f'"{WARNING}, and not before"' in what


@pytest.mark.parametrize("angle", [90, -90, 180])
def test_a_page_with_turned_contents_is_read(tmp_path: Path, angle: int) -> None:
    inner = f"#box(width: 17cm)[{SECTION}]"
    markup = f"{STEPS}#pagebreak()\n#rotate({angle}deg, reflow: true)[{inner}]\n"
    machine = model_of(tmp_path, markup)
    assert [procedure.number for procedure in machine.procedures] == ["4.2", "4.3"]
    second = machine.procedures[1]
    assert len(second.steps) == 3
    assert second.steps[1].torques
    assert "spring" in str(second)
    assert [page.state for page in machine.pages] == ["read", "read"]
    page = list(read_pages(tmp_path / "manual.pdf"))[1]
    assert isinstance(page, PageLayout)
    box = _box_of(second.steps[1].citations[0].place)
    words = [word for turned in page.turned for word in turned.words if word.text.startswith("Tighten")]
    assert all(box[0] - 0.01 <= w.left and w.right <= box[2] + 0.01 for w in words)
    assert all(box[1] - 0.01 <= w.top and w.bottom <= box[3] + 0.01 for w in words)


def _box_of(place: object) -> Box:
    assert isinstance(place, PdfPlace)
    assert place.box is not None
    return place.box


def test_headings_set_sideways_in_a_ruled_table_are_headings(tmp_path: Path) -> None:
    heads = "[*Item*], [*Part no.*], [*Description*], [#rotate(-90deg, reflow: true)[*Number off*]]"
    rows = "[1], [K-1], [Cover], [1], [2], [K-2], [Screw M6 x 45], [7]"
    markup = f"#table(columns: (1.5cm, 2.5cm, 6cm, 1.5cm), stroke: 0.5pt, {heads}, {rows})\n"
    machine = model_of(tmp_path, markup)
    assert [(row.name, row.quantity.words) for row in machine.rows] == [
        ("Cover", "1"),
        ("Screw M6 x 45", "7"),
    ]
    assert told(machine, "LB-R21") == []


def test_a_tab_in_the_margin_of_every_page_is_not_told(tmp_path: Path) -> None:
    tab = "#place(right + horizon, dx: 1.2cm, rotate(90deg, reflow: true)[Gearcase])\n"
    machine = model_of(tmp_path, "#pagebreak()\n".join([STEPS + tab, SECTION + tab, SECTION + tab]))
    assert told(machine, "LB-R21") == []


def test_a_page_with_the_entry_to_turn_it_needs_nothing(tmp_path: Path) -> None:
    turned = b"0 1 -1 0 400 0 cm\n" + text_at(60, 300, "Remove the screws")
    path = made_pdf(tmp_path / "turned.pdf", [Page(turned, "/Rotate 90")])
    (page,) = read_pages(path)
    assert isinstance(page, PageLayout)
    assert ([word.text for word in page.words], page.turned) == (["Remove", "the", "screws"], ())


@pytest.mark.parametrize("angle", [90, 180, 270])
def test_turning_a_box_back_gives_the_box(angle: int) -> None:
    box = (0.1, 0.2, 0.4, 0.3)
    assert turned_box(turned_box(box, angle), 360 - angle) == pytest.approx(box)


def test_a_page_without_turned_words_is_the_page() -> None:
    page = PageLayout(1, 100, 100)
    assert straightened(page).page is page
