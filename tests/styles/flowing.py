# ruff: noqa: E501
"""Sets a book with another setting program (ReportLab), standard faces and spread words: not every PDF is alike."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

from reportlab.lib.colors import lightgrey
from reportlab.lib.enums import TA_JUSTIFY
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    Flowable,
    Frame,
    PageBreak,
    PageTemplate,
    Paragraph,
    Spacer,
    Table,
)

from styles.press import Call

BODY = ParagraphStyle(
    "body", fontName="Times-Roman", fontSize=10.5, leading=13, alignment=TA_JUSTIFY, spaceAfter=4
)
STEP = ParagraphStyle("step", BODY, leftIndent=9 * mm, bulletIndent=0)
SUB = ParagraphStyle("sub", BODY, leftIndent=15 * mm, bulletIndent=9 * mm)
CHAPTER = ParagraphStyle("chapter", fontName="Helvetica-Bold", fontSize=17, leading=21, spaceAfter=16)
GROUP = ParagraphStyle(
    "group", fontName="Helvetica-Bold", fontSize=13, leading=16, spaceBefore=12, spaceAfter=6, keepWithNext=1
)
HEAD = ParagraphStyle(
    "head", fontName="Helvetica-Bold", fontSize=10.5, leading=13, spaceBefore=8, spaceAfter=3, keepWithNext=1
)
NOTE = ParagraphStyle("note", BODY, fontName="Times-Italic", leftIndent=9 * mm)
CELL = ParagraphStyle("cell", fontName="Times-Roman", fontSize=9.5, leading=11.5)
CAPTION = ParagraphStyle("caption", fontName="Helvetica", fontSize=8.5, leading=11, spaceAfter=6)


class Sketch(Flowable):
    """A plain line drawing with numbered lines to its parts."""

    def __init__(self, callouts: int) -> None:
        super().__init__()
        self.callouts, self.width, self.height = callouts, 80 * mm, 46 * mm

    def wrap(self, *_: object) -> tuple[float, float]:
        """Its size."""
        return self.width, self.height

    def draw(self) -> None:
        """A body, a bore, and the numbers."""
        canvas: Canvas = self.canv
        canvas.rect(18 * mm, 8 * mm, 44 * mm, 28 * mm)
        canvas.circle(38 * mm, 22 * mm, 9 * mm)
        canvas.setFont("Helvetica", 8)
        for index in range(self.callouts):
            left, y = index % 2 == 0, (38 - 8 * (index // 2)) * mm
            canvas.drawString(0 if left else 78 * mm, y, str(index + 1))
            canvas.line((4 if left else 60) * mm, y + 1 * mm, (22 if left else 76) * mm, y + 1 * mm)


class Book(BaseDocTemplate):
    """Notes on which page each section comes to stand; heads and feet name the chapter."""

    def __init__(self, target: io.BytesIO) -> None:
        super().__init__(target, pagesize=A4, invariant=1, leftMargin=26 * mm, rightMargin=20 * mm)
        self.stand: dict[str, int] = {}
        self.chapter, self.chapter_page = ("", ""), 1
        frame = Frame(26 * mm, 24 * mm, 164 * mm, 244 * mm, id="all")
        self.addPageTemplates([PageTemplate(id="all", frames=[frame], onPageEnd=self.foot)])

    def afterFlowable(self, flowable: Any) -> None:
        """Called by the setting program."""
        key = getattr(flowable, "key", "")
        if key:
            self.stand[key] = self.page
        if getattr(flowable, "opens", None):
            self.chapter, self.chapter_page = flowable.opens, self.page

    def foot(self, canvas: Canvas, _: object) -> None:
        """Running head and printed page number."""
        number, title = self.chapter
        if number:
            canvas.setFont("Helvetica", 8)
            canvas.drawString(26 * mm, 280 * mm, title)
            canvas.drawRightString(190 * mm, 280 * mm, "H31")
            canvas.drawCentredString(108 * mm, 13 * mm, f"{number} - {self.page - self.chapter_page + 1}")


class Story:
    """Turns calls into what the setting program flows."""

    def __init__(self) -> None:
        self.flow: list[Any] = []

    def paragraph(self, words: str, style: ParagraphStyle, mark: str = "") -> Paragraph:
        """One paragraph, noted at the end of the flow."""
        safe = words.replace("&", "&amp;").replace("<", "&lt;")
        made = Paragraph(safe, style, bulletText=mark or None)
        self.flow.append(made)
        return made

    def title_page(self, title: str, machine: str, edition: str) -> None:
        """The cover."""
        self.flow.append(Spacer(1, 70 * mm))
        for words, style in ((machine, CHAPTER), (title, GROUP), (edition, CAPTION)):
            self.paragraph(words, style)
        self.flow.append(PageBreak())

    def contents(self, rows: tuple[tuple[str, str, str, str], ...]) -> None:
        """The list of chapters and groups with their pages."""
        self.paragraph("Contents", GROUP)
        shown = [[number, title, page] for level, number, title, page in rows if level in "12"]
        self.flow.append(
            Table(
                shown,
                colWidths=[16 * mm, 110 * mm, 20 * mm],
                rowHeights=12,
                style=[("FONT", (0, 0), (-1, -1), "Times-Roman", 9)],
            )
        )

    def chapter(self, key: str, number: str, title: str) -> None:
        """A new page with the chapter's heading."""
        self.flow.append(PageBreak())
        made = self.paragraph(f"{number}   {title}", CHAPTER)
        made.key, made.opens = key, (number, title)

    def section(self, key: str, level: int, number: str, title: str) -> None:
        """A heading."""
        made = self.paragraph(f"{number}  {title}".strip(), GROUP if number else HEAD)
        made.key = key

    def para(self, words: str) -> None:
        """Running text."""
        self.paragraph(words, BODY)

    def step(self, depth: int, mark: str, words: str) -> None:
        """A step with its hanging mark."""
        self.paragraph(words, SUB if depth else STEP, mark)

    def caution(self, signal: str, words: str) -> None:
        """Set in italics, in line with the steps."""
        self.paragraph(f"{signal}: {words}", NOTE)

    def setup(self, groups: tuple[tuple[str, tuple[str, ...]], ...]) -> None:
        """Each label with its lines in one paragraph."""
        for label, lines in groups:
            self.paragraph(f"{label}: {'; '.join(one.rstrip('.') for one in lines)}.", BODY)

    def follow(self, label: str, lines: tuple[str, ...]) -> None:
        """After the last step."""
        self.paragraph(f"{label}: {' '.join(lines)}", BODY)

    def picture(self, number: str, title: str, callouts: int) -> None:
        """A drawing over its caption."""
        self.flow.append(Sketch(callouts))
        self.paragraph(f"{number}  {title}", CAPTION)

    def data_table(self, caption: str, heads: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> None:
        """A ruled table under its caption."""
        self.paragraph(caption, HEAD)
        self._table(heads, rows, [90 * mm, *[36 * mm] * (len(heads) - 1)])

    def parts_figure(self, key: str, number: str, title: str, heads: tuple[str, ...], rows: Any) -> None:
        """A drawing of the parts list and its table."""
        self.flow.append(PageBreak())
        self.paragraph(f"{number}  {title}", GROUP).key = key
        self.flow.append(Sketch(len(rows)))
        self._table(heads, rows, [14 * mm, 80 * mm, 14 * mm, 34 * mm])

    def _table(self, heads: tuple[str, ...], rows: Any, widths: list[float]) -> None:
        cells = [[Paragraph(one, CELL) for one in line] for line in (heads, *rows)]
        style = [("GRID", (0, 0), (-1, -1), 0.3, "black"), ("BACKGROUND", (0, 0), (-1, 0), lightgrey)]
        self.flow.append(Table(cells, colWidths=widths, repeatRows=1, style=style))


def press(calls: list[Call], look: Path) -> tuple[bytes, dict[str, int]]:
    """The PDF and the page on which each section stands; the look is this module's own."""
    story = Story()
    for name, given in calls:
        getattr(story, name.replace("-", "_"))(*given)
    target = io.BytesIO()
    book = Book(target)
    book.build(story.flow)
    return target.getvalue(), book.stand
