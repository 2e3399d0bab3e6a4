"""Captions that go on with a legend in one run of words: the legend is read, fasteners in it are told."""

from pathlib import Path

import pytest

from failure.made_pdf import typeset_pdf
from lastbolt.cli.read import read_files
from lastbolt.words.machine import Machine

STEPS = (
    "#set page(width: 18cm, height: 20cm)\n= 4.2 Opening the gearcase\n"
    "+ Drain the oil.\n+ Lift the cover off.\n\n"
)
DRAWING = (
    "#block(width: 6cm, height: 4cm)["
    + "".join(f"#place(dx: {n}mm, dy: {n}mm, circle(radius: 1cm))" for n in range(0, 24, 3))
    + "]\n"
)
CAPTION = "Fig. 4-1 Gearcase: 1 housing, 2 cover, 3 screw M6 x 45 (7 off), 4 bolt M8 x 70 (2 off)"
LEGEND = (("1", "housing"), ("2", "cover"), ("3", "screw M6 x 45 (7 off)"), ("4", "bolt M8 x 70 (2 off)"))


def model_of(folder: Path, markup: str) -> Machine:
    """The page as a model."""
    typeset_pdf(folder / "manual.pdf", markup)
    return read_files([folder / "manual.pdf"]).machine


@pytest.mark.parametrize("drawing", ["", DRAWING])
@pytest.mark.parametrize("width", ["16cm", "7cm"])
def test_a_legend_in_the_caption_is_read_and_its_fasteners_told(
    tmp_path: Path, drawing: str, width: str
) -> None:
    machine = model_of(tmp_path, f"{STEPS}{drawing}#box(width: {width})[{CAPTION}]\n")
    (figure,) = machine.figures
    assert (figure.number, figure.title, figure.legend) == ("4-1", "Gearcase", LEGEND)
    (what,) = [problem.what for problem in machine.problems if problem.code == "LB-R24"]
    assert "screw M6 x 45 (7 off); bolt M8 x 70 (2 off)" in what
    assert [step.words for step in machine.procedures[0].steps] == ["Drain the oil.", "Lift the cover off."]


@pytest.mark.parametrize("drawing", ["", DRAWING])
def test_a_legend_of_parts_alone_is_read_and_not_told(tmp_path: Path, drawing: str) -> None:
    machine = model_of(tmp_path, f"{STEPS}{drawing}Fig. 4-1 Gearcase: 1 housing, 2 cover, 3 shaft\n")
    assert [figure.legend for figure in machine.figures] == [
        (("1", "housing"), ("2", "cover"), ("3", "shaft"))
    ]
    assert [problem.code for problem in machine.problems if problem.code == "LB-R24"] == []


@pytest.mark.parametrize(
    "words", ["Fig. 3 shows the gearcase with its 7 screws.", "See Fig. 3 and remove the screws (4)."]
)
def test_a_sentence_about_a_figure_is_no_caption(tmp_path: Path, words: str) -> None:
    assert model_of(tmp_path, f"{STEPS}{words}\n").figures == ()
