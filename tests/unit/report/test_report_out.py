"""The report's two papers: words of a source stay words, everything of the view is on both."""

import ctypes
import html
import re

import pypdfium2
from pypdfium2 import raw

from lastbolt.app.pages import (
    BlockShown,
    CautionShown,
    Cite,
    HolderShown,
    LineShown,
    Remark,
    ReportPage,
    SizeShown,
)
from lastbolt.edge.html_out import report_html
from lastbolt.edge.pdf_out import report_pdf
from lastbolt.words.picture import JointPicture, Spot

NASTY = (
    "<script>alert(1)</script> #set page(width: 1mm) $x$ *bold* \\ & \"quoted\" 'single' {{ 7 * 7 }} {% x %}"
)


def nasty_page() -> ReportPage:
    cite = Cite(NASTY, NASTY)
    return ReportPage(
        title=NASTY, subtitle=NASTY, sentence=NASTY, verdict="held",
        next_steps=(Remark(NASTY, NASTY, (cite,)),),
        picture=JointPicture(spots=(Spot("1", 0, 0, "in"), Spot("2", 9, 9, "out", True, True))),
        legend=((Spot("", 0, 0, "in"), NASTY),),
        places=(("1", NASTY),),
        why=NASTY,
        counts=(SizeShown(NASTY, NASTY, NASTY, NASTY, differs=True),),
        count_disagreements=(NASTY,),
        count_notes=(NASTY,),
        suspicions=(Remark(NASTY),),
        more_suspicions=(NASTY,),
        holder_notes=(NASTY,),
        holders=(HolderShown(NASTY, NASTY, False, (cite,)),),
        before_off=(Remark(NASTY),),
        blocks=(
            BlockShown(
                "4.2", NASTY, NASTY, NASTY, NASTY, None, (CautionShown("warning", NASTY),),
                (LineShown("1", NASTY, (CautionShown("danger", NASTY),), (NASTY,), NASTY, (cite,)),),
            ),
        ),
        plan_state=NASTY, open_points=(Remark(NASTY),), disagreements=(Remark(NASTY),),
        way_back=(Remark(NASTY),), certificate=(NASTY,), sources=(NASTY,), not_covered=(NASTY,),
    )  # fmt: skip


def test_html_escapes_every_word() -> None:
    made = report_html(nasty_page(), {}, NASTY).decode()
    body = made[made.index("<body>") :]
    assert "<script" not in body
    assert html.escape(NASTY, quote=True).replace("&#x27;", "&#39;").replace("&quot;", "&#34;") in body
    assert "49" not in re.sub(r'viewBox="[^"]*"|[a-z]+="[^"]*"', "", body)


def test_html_loads_nothing_from_elsewhere() -> None:
    made = report_html(nasty_page(), {}, "foot").decode()
    assert not re.search(r'(src|href)="(?!data:)', made)
    assert "default-src 'none'" in made


def test_pdf_shows_the_words_as_they_are() -> None:
    document = pypdfium2.PdfDocument(report_pdf(nasty_page(), {}, "foot"))
    text = "".join(page.get_textpage().get_text_range() for page in document)
    assert "<script>alert(1)</script>" in text.replace("\r\n", "").replace("\n", "")
    assert all(round(page.get_width()) == 595 for page in document), "A4, whatever the words say"


def test_same_view_same_bytes() -> None:
    assert report_pdf(nasty_page(), {}, "foot") == report_pdf(nasty_page(), {}, "foot")


def test_the_sentence_stands_first_and_next_right_below() -> None:
    page = ReportPage(
        "t", "s", "Do not pull.", "held", next_steps=(Remark("Look at 9."),), sources=("Manual.",)
    )
    body = report_html(page, {}, "foot").decode().partition("<body>")[2]
    assert body.index("Do not pull.") < body.index("Look at 9.") < body.index("Manual.")


def test_work_stops_before_force_and_bare_screws_are_told() -> None:
    line = LineShown(
        "6.4.5", "Press evenly.", stop="Stop here. Do not pull.", which=("3 x screw M8x55 at 11, 12",)
    )
    page = ReportPage(
        "t", "s", "Do not pull.", "held", blocks=(BlockShown("6.4", "Part it", "p", lines=(line,)),)
    )
    body = report_html(page, {}, "foot").decode().partition("<body>")[2]
    assert body.index("Stop here.") < body.index("Press evenly.") < body.index("3 x screw M8x55")
    text = "".join(
        p.get_textpage().get_text_range() for p in pypdfium2.PdfDocument(report_pdf(page, {}, "foot"))
    )
    assert text.index("Stop here.") < text.index("Press evenly.") < text.index("3 x screw M8x55")


def test_only_what_is_clear_to_part_has_the_colour_of_going_on() -> None:
    """A joint of which all counts are out still bears a "Do not pull" when a fastener is not counted."""
    page = ReportPage("t", "s", "Not shown: not accounted for: the long bolt. Do not pull.", "free")
    clear = ReportPage("t", "s", "Clear to part.", "free", clear_to_part=True)
    stops = [b'<h1 class="stop">' in report_html(p, {}, "foot") for p in (page, clear)]
    assert stops == [True, False]
    colours = [_colour_of(p) for p in (page, clear)]
    assert colours[0] != colours[1]
    held = ReportPage("t", "s", page.sentence, "held")
    assert _colour_of(held) == colours[0]


def _colour_of(page: ReportPage) -> tuple[int, ...]:
    """Of the largest words of the PDF's first page."""
    first = pypdfium2.PdfDocument(report_pdf(page, {}, "foot"))[0]
    texts = [item for item in first.get_objects() if item.type == raw.FPDF_PAGEOBJ_TEXT]
    largest = max(texts, key=lambda item: item.get_bounds()[3] - item.get_bounds()[1])
    parts = [ctypes.c_uint() for _ in range(4)]
    assert raw.FPDFPageObj_GetFillColor(largest, *parts)
    return tuple(part.value for part in parts)
