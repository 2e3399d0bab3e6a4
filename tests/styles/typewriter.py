"""Sets a book as a typist would: one face of one size, capitals and underlining, columns by blanks."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

from reportlab.lib.enums import TA_CENTER
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
    XPreformatted,
)

from styles.press import Call

PAGE = (204 * mm, 330 * mm)
"""Foolscap."""
WIDE = 64
BODY = ParagraphStyle("typed", fontName="Courier", fontSize=10, leading=15, spaceAfter=9)
CENTRE = ParagraphStyle("centre", BODY, alignment=TA_CENTER, keepWithNext=1)
HEAD = ParagraphStyle("head", BODY, spaceBefore=12, keepWithNext=1)
STEP = ParagraphStyle("step", BODY, firstLineIndent=0, leftIndent=0)
SUB = ParagraphStyle("sub", BODY, leftIndent=24 * mm, bulletIndent=13 * mm)
WARN = ParagraphStyle("warn", BODY, leftIndent=18 * mm, rightIndent=14 * mm, keepWithNext=1)
LINES = ParagraphStyle("lines", BODY, leading=14)


class Drawing(Flowable):
    """A plain line drawing with numbered lines to its parts."""

    def __init__(self, callouts: int) -> None:
        super().__init__()
        self.callouts, self.width, self.height = callouts, 100 * mm, 62 * mm
        self.hAlign = "CENTER"
        self.keepWithNext = 1

    def wrap(self, *_: object) -> tuple[float, float]:
        """Its size."""
        return self.width, self.height

    def draw(self) -> None:
        """A casting, a bore, and the numbers."""
        canvas: Canvas = self.canv
        canvas.roundRect(24 * mm, 10 * mm, 50 * mm, 40 * mm, 4 * mm)
        canvas.ellipse(36 * mm, 18 * mm, 60 * mm, 42 * mm)
        canvas.setFont("Courier", 9)
        for index in range(self.callouts):
            left, y = index % 2 == 0, (54 - 46 * (index // 2) / max(1, (self.callouts + 1) // 2)) * mm
            canvas.drawString((2 if left else 94) * mm, y - 1 * mm, str(index + 1))
            canvas.line((8 if left else 92) * mm, y, (30 if left else 68) * mm, y - 5 * mm)


class Book(BaseDocTemplate):
    """Notes on which page each section comes to stand; the page number is typed at the top."""

    def __init__(self, target: io.BytesIO) -> None:
        super().__init__(target, pagesize=PAGE, invariant=1)
        self.stand: dict[str, int] = {}
        self.first = 0
        frame = Frame(30 * mm, 24 * mm, 156 * mm, 278 * mm, id="all")
        self.addPageTemplates([PageTemplate(id="all", frames=[frame], onPageEnd=self.head)])

    def afterFlowable(self, flowable: Any) -> None:
        """Called by the setting program."""
        key = getattr(flowable, "key", "")
        if key:
            self.stand[key] = self.page
        if key == "ch0":
            self.first = self.page

    def head(self, canvas: Canvas, _: object) -> None:
        """The page number between hyphens."""
        if self.first:
            canvas.setFont("Courier", 10)
            canvas.drawCentredString(PAGE[0] / 2, 311 * mm, f"- {self.page - self.first + 1} -")


class Story:
    """Turns calls into what the setting program flows."""

    def __init__(self) -> None:
        self.flow: list[Any] = []

    def line(self, words: str, style: ParagraphStyle, under: bool = False, mark: str = "") -> Paragraph:
        """One paragraph, noted at the end of the flow."""
        safe = words.replace("&", "&amp;").replace("<", "&lt;")
        made = Paragraph(f"<u>{safe}</u>" if under else safe, style, bulletText=mark or None)
        self.flow.append(made)
        return made

    def title_page(self, title: str, machine: str, edition: str) -> None:
        """The cover."""
        self.flow.append(Spacer(1, 80 * mm))
        self.line(machine.upper(), CENTRE, True)
        self.line(title.upper(), CENTRE)
        self.line(edition, CENTRE)
        self.flow.append(PageBreak())

    def contents(self, rows: tuple[tuple[str, str, str, str], ...]) -> None:
        """Chapters and headings, dots to the page."""
        self.line("CONTENTS", CENTRE, True)
        shown = []
        for level, number, title, page in rows:
            words = f"{number:<5}{title.upper()}" if level == "1" else f"       {title}"
            shown.append(f"{words} {'.' * (WIDE - len(words) - len(page) - 2)} {page}")
        self.flow.append(XPreformatted("\n".join(shown), LINES))

    def chapter(self, key: str, number: str, title: str) -> None:
        """A new page: the word and number, the title below."""
        self.flow.append(PageBreak())
        word = "APPENDIX" if number in ("A", "B") else "CHAPTER"
        self.line(f"{word} {number}", CENTRE, True).key = key
        self.line(title.upper(), CENTRE, True)

    def section(self, key: str, level: int, number: str, title: str) -> None:
        """Underlined, at the margin."""
        self.line(title, HEAD, True).key = key

    def para(self, words: str) -> None:
        """Running text."""
        self.line(words, BODY)

    def step(self, depth: int, mark: str, words: str) -> None:
        """The paragraph's number on its first line; sub-paragraphs hang."""
        if depth:
            self.line(words, SUB, mark=mark)
        else:
            self.line(f"{mark}{'&nbsp;' * (7 - len(mark))}".replace("&nbsp;", "\u00a0") + words, STEP)

    def caution(self, signal: str, words: str) -> None:
        """In capitals and indented when it is a warning."""
        self.line(f"{signal}.- {words.upper() if signal == 'WARNING' else words}", WARN)

    def setup(self, groups: tuple[tuple[str, tuple[str, ...]], ...]) -> None:
        """Each label with its lines in one paragraph."""
        for label, lines in groups:
            self.line(f"{label}: {'; '.join(one.rstrip('.') for one in lines)}.", BODY)

    def follow(self, label: str, lines: tuple[str, ...]) -> None:
        """After the last step."""
        self.line(f"{label}: {' '.join(lines)}", BODY)

    def picture(self, number: str, title: str, legend: str, callouts: int) -> None:
        """A drawing, its title, and its legend in a running line."""
        self.flow.append(Drawing(callouts))
        self.line(f"{number}.- {title}.", CENTRE)
        self.line(legend, BODY)

    def leaders(self, words: str, rows: tuple[tuple[str, str], ...]) -> None:
        """Dots from what to how much."""
        self.line(words, BODY)
        shown = [f"{what} {'.' * (WIDE - len(what) - len(value) - 2)} {value}" for what, value in rows]
        self.flow.append(XPreformatted("\n".join(shown), LINES))

    def columns(self, heads: tuple[str, ...], rows: Any, widths: tuple[int, ...] = (38, 15, 8)) -> None:
        """Columns by blanks."""
        lines = [
            "".join(f"{cell:<{width}}" for cell, width in zip(line, widths, strict=True)).rstrip()
            for line in (heads, tuple("-" * len(one) for one in heads), *rows)
        ]
        self.flow.append(XPreformatted("\n".join(lines), LINES))

    def parts_figure(self, key: str, number: str, title: str, heads: tuple[str, ...], rows: Any) -> None:
        """A plate and its list."""
        head = Paragraph(f"{number} - {title.upper()}", CENTRE)
        head.key = key  # type: ignore[attr-defined]
        self.flow.append(PageBreak())
        self.flow.append(head)
        self.flow.append(Drawing(len(rows)))
        self.columns(heads, rows, (7, 13, 39, 5))


def press(calls: list[Call], look: Path) -> tuple[bytes, dict[str, int]]:
    """The PDF and the page on which each section stands; the look is this module's own."""
    story = Story()
    for name, given in calls:
        getattr(story, name.replace("-", "_"))(*given)
    target = io.BytesIO()
    book = Book(target)
    book.build(story.flow)
    return target.getvalue(), book.stand
