"""Raised and lowered figures: by boxes alone, and on papers set by two programs."""

from pathlib import Path

import pytest
import typst
from reportlab.lib.pagesizes import A4
from reportlab.pdfgen.canvas import Canvas

from lastbolt.app.read_sources import Paged, SourceFile, read_sources
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.raised import raise_marks
from lastbolt.reading.sizes import sizes_in
from lastbolt.reading.steps import read_step
from lastbolt.words.machine import Machine
from lastbolt.words.page import PageLayout, Word

PAPERS = Path(__file__).parent / "papers"


def _word(text: str, left: float, size: float = 10.0, rise: float = 0.0) -> Word:
    """A word on one line of a page of 600 x 800 pt, `rise` pt above it."""
    foot = 402.5 - rise - (10 - size) * 0.25
    return Word(
        text, left / 600, (foot - 1.17 * size) / 800, (left + 0.5 * size * len(text)) / 600, foot / 800, size
    )


def _texts(*words: Word) -> list[str]:
    return [word.text for word in raise_marks(PageLayout(1, 600, 800, words)).words]


def test_a_small_raised_figure_beside_a_number_is_a_mark():
    assert _texts(_word("25", 100), _word("2)", 110.5, 6, 4), _word("N·m", 120)) == ["25", "²⁾", "N·m"]
    assert _texts(_word("7", 100), _word("1", 105.5, 6, 4), _word("screws", 112)) == ["7", "¹", "screws"]


def test_a_stacked_tolerance():
    words = [_word("25", 100), _word("+5", 111, 6, 4), _word("-2", 111, 6, -3), _word("Nm", 122)]
    assert _texts(*words) == ["25", "⁺⁵", "₋₂", "Nm"]


def test_a_power_is_joined_to_its_unit():
    assert _texts(_word("kg/cm", 100), _word("2", 125, 6, 4), _word("here", 140)) == ["kg/cm²", "here"]


def test_a_mark_drawn_after_the_line():
    assert _texts(_word("25", 100), _word("N·m", 120), _word("2", 110.5, 6, 4)) == ["25", "N·m", "²"]


@pytest.mark.parametrize(
    "words",
    [
        (_word("HEAD", 100, 14), _word("2", 140, 10)),
        (_word("25", 100), _word("2", 110.5, 6)),
        (_word("25", 100), _word("2", 130, 6, 4)),
    ],
)
def test_small_figures_on_the_line_or_away_from_it_stay(words):
    assert _texts(*words) == [word.text for word in words]


def test_marks_change_no_count_and_no_size():
    facts = read_step("Remove the 7¹ screws M6² x 45.", lexicon(), callouts_in_brackets=True)
    (screws,) = facts.mentions
    assert screws.quantity.low == 7
    assert screws.kind is not None
    assert (screws.kind.thread, screws.kind.length_mm) == ("M6", 45)
    assert 'the mark "¹"' in facts.doubt
    assert sizes_in("M8² x 25")[0].length_mm == 25


def _read(path: Path) -> Machine:
    return read_sources([Paged(SourceFile(path.name), read_pages(path, PdfSettings(source="m")))]).machine


def _torques(machine: Machine) -> list[tuple[tuple[float, float] | None, ...]]:
    return [tuple(t.torque_Nm for t in step.torques) for step in machine.procedures[0].steps]


def test_paper_with_superiors_of_the_font(tmp_path):
    """typst sets raised figures as glyphs of the same font and size; the paper says what is true."""
    target = tmp_path / "raised.pdf"
    typst.compile(str(PAPERS / "raised_figures.typ"), output=str(target))
    machine = _read(target)
    steps = machine.procedures[0].steps
    assert [step.mark for step in steps] == ["1", "2", "3", "4", "5"]
    assert _torques(machine) == [((25, 25),), ((25, 30),), (), ((12, 12), (14, 14)), ((60, 60),)]
    assert steps[2].mentions[0].quantity.low == 7
    assert "Oiled thread only" in steps[0].words
    assert "9 screws" in steps[2].words
    assert all("its note" in steps[i].doubt for i in (0, 2, 3))
    assert steps[1].doubt == steps[4].doubt == ""


def test_paper_with_small_type_raised(tmp_path):
    """The ordinary way: smaller type, raised; the note at the foot of the page is no step."""
    target = tmp_path / "small.pdf"
    canvas = Canvas(str(target), pagesize=A4)
    canvas.setFont("Helvetica-Bold", 14)
    canvas.drawString(60, 780, "4 GEARCASE")
    canvas.drawString(60, 750, "4.1 Installing the cover")
    for y, before, mark, behind in (
        (720, "1. Tighten the nuts to 30", "2", "N·m."),
        (706, "2. Tighten the screws to 25", "3)", "N·m."),
    ):
        canvas.setFont("Helvetica", 10)
        canvas.drawString(60, y, before)
        x = 60 + canvas.stringWidth(before, "Helvetica", 10)
        canvas.drawString(x + 8, y, behind)
        canvas.setFont("Helvetica", 6)
        canvas.drawString(x, y + 4, mark)
    canvas.setFont("Helvetica", 7)
    canvas.drawString(60, 100, "2) Oiled thread only.")
    canvas.drawString(60, 90, "3) With dry thread 34 N·m.")
    canvas.save()
    machine = _read(target)
    assert _torques(machine) == [((30, 30),), ((25, 25), (34, 34))]
    assert "Oiled thread only" in machine.procedures[0].steps[0].words
    doubts = [p.what for p in machine.problems if p.code == "LB-R16"]
    assert len(doubts) == 3  # each raised mark, and that the second value holds for dry threads only
