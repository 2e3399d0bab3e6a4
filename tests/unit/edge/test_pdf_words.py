"""Words and boxes of a page: against rendered ink, against pdfplumber, and awkward ways of setting text."""

import io
from pathlib import Path

import pdfplumber
import pytest
from PIL import Image

from failure.made_pdf import Page, made_pdf, text_at, typeset_pdf
from lastbolt.edge.pdf_in import read_pages, render_crop
from lastbolt.words.page import PageLayout, Word

RED_TOKEN = text_at(60, 480, "Screw") + b"1 0 0 rg\n" + text_at(120, 480, "M8x70", 14)
TURNS = ["", "/Rotate 90", "/Rotate 180", "/Rotate 270"]
CROPS = ["", "/CropBox [40 300 350 560]"]


def page_of(path: Path, number: int = 1) -> PageLayout:
    """That page of the file."""
    pages = [item for item in read_pages(path) if isinstance(item, PageLayout)]
    return pages[number - 1]


def words_of(path: Path) -> list[str]:
    """The words of the first page."""
    return [word.text for word in page_of(path).words]


def red_ink(path: Path) -> tuple[float, float, float, float]:
    """The box of the red pixels on the drawn page, in fractions."""
    picture = Image.open(io.BytesIO(render_crop(path, 1, (0, 0, 1, 1), 144))).convert("RGB")
    red = picture.split()[0].point(lambda v: 255 if v > 200 else 0)
    green = picture.split()[1].point(lambda v: 255 if v < 100 else 0)
    mask = Image.composite(red, Image.new("L", picture.size), green)
    box = mask.getbbox()
    assert box is not None
    return (
        box[0] / picture.width,
        box[1] / picture.height,
        box[2] / picture.width,
        box[3] / picture.height,
    )


@pytest.mark.parametrize("crop", CROPS)
@pytest.mark.parametrize("turn", TURNS)
def test_a_word_stands_where_its_ink_is(tmp_path: Path, turn: str, crop: str) -> None:
    path = made_pdf(tmp_path / "turned.pdf", [Page(RED_TOKEN, f"{turn} {crop}")])
    page = page_of(path)
    every = [*page.words, *(word for turned in page.turned for word in turned.words)]
    word = next(w for w in every if w.text == "M8x70")
    assert [turned.angle for turned in page.turned] == ([int(turn.split()[1])] if turn else [])
    ink = red_ink(path)
    near = 0.006
    assert word.left - near <= ink[0]
    assert word.top - near <= ink[1]
    assert ink[2] <= word.right + near
    assert ink[3] <= word.bottom + near
    along = (word.left, word.right, ink[0], ink[2])
    if turn.endswith(("90", "270")):
        along = (word.top, word.bottom, ink[1], ink[3])
    shared = min(along[1], along[3]) - max(along[0], along[2])
    assert shared / (max(along[1], along[3]) - min(along[0], along[2])) > 0.95


MANUAL_PAGE = """
#set page(width: 12cm, height: 18cm, columns: 2)
#set par(justify: true)
= 4.2 Removing the cover
+ Undo the six screws M6x45 evenly (see 3.1) and lift the cover off.
+ Tighten to 10 N·m (7.4 lbf·ft).
#lorem(90)
"""


def test_words_and_boxes_agree_with_pdfplumber(tmp_path: Path) -> None:
    """pdfplumber (MIT), a general-purpose PDF reader: same words, left and right edges within half a point
    of its advance boxes plus the glyphs' side bearings."""
    path = typeset_pdf(tmp_path / "page.pdf", MANUAL_PAGE)
    ours = page_of(path)
    with pdfplumber.open(path) as document:
        page = document.pages[0]
        theirs = [
            (
                w["text"].replace("\xad", "-"),
                w["x0"] / float(page.width),
                w["x1"] / float(page.width),
                w["top"] / float(page.height),
            )
            for w in page.extract_words(use_text_flow=True, keep_blank_chars=False)
        ]
    assert len(theirs) > 80
    left_over = list(ours.words)
    for text, left, right, top in theirs:
        match = next((w for w in left_over if same(w, text, left, right, top, ours)), None)
        assert match is not None, f"{text} at {left:.3f} {top:.3f}"
        left_over.remove(match)
    assert not left_over


def same(word: Word, text: str, left: float, right: float, top: float, page: PageLayout) -> bool:
    """The word with that text within 2.5 points of that place."""
    return (
        word.text == text
        and abs(word.left - left) * page.width_pt < 2.5
        and abs(word.right - right) * page.width_pt < 2.5
        and abs(word.top - top) * page.height_pt < 4.0
    )


def test_a_word_broken_at_the_line_end_stays_two_words_with_its_hyphen(tmp_path: Path) -> None:
    path = made_pdf(
        tmp_path / "h.pdf", [Page(text_at(50, 500, "the gear-") + text_at(50, 486, "case cover"))]
    )
    words = words_of(path)
    assert words == ["the", "gear-", "case", "cover"]


def test_a_raised_footnote_mark_is_no_digit_of_the_number(tmp_path: Path) -> None:
    content = text_at(50, 500, "7.4", 12) + text_at(67, 505, "1", 7) + text_at(80, 500, "lbf", 12)
    path = made_pdf(tmp_path / "s.pdf", [Page(content)])
    assert words_of(path) == ["7.4", "1", "lbf"]


def test_a_built_fraction_is_one_word(tmp_path: Path) -> None:
    content = text_at(50, 504, "3", 7) + text_at(54, 500, "/", 12) + text_at(57.5, 498, "8", 7)
    path = made_pdf(tmp_path / "f.pdf", [Page(content)])
    assert words_of(path) == ["3/8"]


def test_text_printed_twice_to_look_bold_is_read_once_and_bold(tmp_path: Path) -> None:
    content = text_at(50, 500, "WARNING") + text_at(50.4, 500, "WARNING")
    words = page_of(made_pdf(tmp_path / "b.pdf", [Page(content)])).words
    assert [word.text for word in words] == ["WARNING"]


def test_two_equal_words_side_by_side_stay_two(tmp_path: Path) -> None:
    content = text_at(50, 500, "4") + text_at(70, 500, "4") + text_at(50, 480, "4")
    assert words_of(made_pdf(tmp_path / "e.pdf", [Page(content)])) == ["4", "4", "4"]


def test_spaced_out_capitals_are_one_word_each(tmp_path: Path) -> None:
    content = b"BT /F1 12 Tf 6 Tc 50 500 Td (ENGINE) Tj ET\n" + text_at(50, 470, "dismounting")
    assert words_of(made_pdf(tmp_path / "c.pdf", [Page(content)])) == ["ENGINE", "dismounting"]


def test_kerning_inside_a_word_opens_no_gap(tmp_path: Path) -> None:
    content = b"BT /F1 12 Tf 50 500 Td [(T) 80 (or) -30 (q) 20 (ue) -300 (M) -60 (8) 10 (x45)] TJ ET\n"
    assert words_of(made_pdf(tmp_path / "k.pdf", [Page(content)])) == ["Torque", "M8x45"]


def test_columns_set_without_spaces_stay_apart(tmp_path: Path) -> None:
    content = text_at(50, 500, "12") + text_at(90, 500, "M6x45") + text_at(150, 500, "2")
    assert words_of(made_pdf(tmp_path / "t.pdf", [Page(content)])) == ["12", "M6x45", "2"]


def test_words_outside_the_displayed_page_are_not_read(tmp_path: Path) -> None:
    content = text_at(60, 480, "seen") + text_at(60, 100, "cropped")
    path = made_pdf(tmp_path / "o.pdf", [Page(content, "/CropBox [40 300 350 560]")])
    assert words_of(path) == ["seen"]


def test_size_comes_from_the_text_matrix_too(tmp_path: Path) -> None:
    content = b"BT /F1 1 Tf 14 0 0 14 50 500 Tm (Heading) Tj ET\n"
    assert page_of(made_pdf(tmp_path / "m.pdf", [Page(content)])).words[0].size_pt == pytest.approx(14)


def test_bold_and_italic_are_seen_from_the_font(tmp_path: Path) -> None:
    path = typeset_pdf(tmp_path / "f.pdf", "plain *strong* _slanted_")
    styles = {w.text: (w.bold, w.italic) for w in page_of(path).words}
    assert styles == {"plain": (False, False), "strong": (True, False), "slanted": (False, True)}


def test_page_labels_are_given(tmp_path: Path) -> None:
    path = typeset_pdf(tmp_path / "l.pdf", '#set page(numbering: "i")\none\n#pagebreak()\ntwo')
    assert page_of(path, 2).label == "ii"


def test_what_is_drawn_is_told_apart(tmp_path: Path) -> None:
    content = (
        b"50 500 m 250 500 l S\n"  # a rule
        b"60 300 80 40 re S\n"  # a box
        b"100 200 m 120 240 160 240 180 200 c S\n"  # a curve
        b"10 10 m 90 10 l 90 50 l 10 50 l h W n\n"  # a clip: nothing to see
        b"200 100 m 260 100 l 260 130 l 230 130 l 230 160 l 200 160 l h S\n"  # an outline of straight lines
    )
    drawn = page_of(made_pdf(tmp_path / "d.pdf", [Page(content)])).drawn
    kinds = [shape.kind for shape in drawn]
    assert kinds[:3] == ["rule", "box", "curve"]
    assert kinds[3:] == ["rule"] * 6
    assert drawn[1].left == pytest.approx(60 / 400, abs=0.004)
    assert drawn[1].bottom == pytest.approx(1 - 300 / 600, abs=0.004)
