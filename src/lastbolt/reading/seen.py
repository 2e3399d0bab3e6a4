"""What became of every page and every word: read, or unexplained and why."""

from collections.abc import Sequence
from typing import NamedTuple

from msgspec.structs import replace

from lastbolt.reading.asides import report_asides, words_of
from lastbolt.reading.drafts import Book
from lastbolt.reading.problems import Reporter
from lastbolt.reading.running import PageText, Running
from lastbolt.reading.swallowed import instructions_missed, instructs
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import PageSeen, PageState

_FEW = 3
SCANNED = "read from a picture by one reader: compare it with the page"


def pages_seen(
    pages: Sequence[PageText], running: Running, book: Book, parts: set[int], source: str, reporter: Reporter
) -> tuple[PageSeen, ...]:
    """One value per page; words in no section, sentences like those of steps that became none, and pictures
    without words, are unexplained."""
    explained: dict[int, int] = {}
    for section in book.sections:
        pieces = [section.heading, *section.again, *section.tables, *section.figures]
        for item in section.items:
            pieces += item.pieces
            pieces += [p for child in item.children for p in child.pieces]
        for piece in pieces:
            for at in piece.lines:
                explained[at.pdf_page] = explained.get(at.pdf_page, 0) + at.line.words
    fronts = {at.pdf_page for piece in [*book.before, *book.contents] for at in piece.lines}
    first = min((s.heading.lines[0].pdf_page for s in book.sections), default=None)
    known = _Known(running, explained, fronts, first, parts, source, _unread(pages, running, book))
    found = [_scan(_seen(page, known)) if page.scanned else _seen(page, known) for page in pages]
    for page, seen in zip(pages, found, strict=True):
        if seen.state == "unexplained" and not page.scanned:
            _report(page, seen, source, reporter)
        report_asides(page, page.asides, seen.printed_page, source, reporter)
    return tuple(_with_asides(page, seen) for page, seen in zip(pages, found, strict=True))


def _with_asides(page: PageText, seen: PageSeen) -> PageSeen:
    """A page with something beside its lines stays unexplained."""
    if not page.asides:
        return seen
    why = "; ".join(filter(None, (seen.why, words_of(page.asides))))
    more = sum(len(aside.words.split()) for aside in page.asides)
    return replace(
        seen,
        state="unexplained",
        why=why,
        words=seen.words + more,
        unexplained_words=seen.unexplained_words + more,
    )


def _scan(seen: PageSeen) -> PageSeen:
    """A page read from its picture by one reader stays unexplained until somebody has compared it."""
    return replace(seen, state="unexplained", why=f"{SCANNED}; {seen.why}" if seen.why else SCANNED)


class _Known(NamedTuple):
    running: Running
    explained: dict[int, int]
    fronts: set[int]
    first: int | None
    parts: set[int]
    source: str
    unread: dict[int, int]
    """Page -> words of instructions that were taken for a drawing, a table or a list of things."""


def _seen(page: PageText, known: _Known) -> PageSeen:
    running, fronts, first, source = known.running, known.fronts, known.first, known.source
    explained = known.explained.get(page.pdf_page, 0)
    printed = running.printed.get(page.pdf_page)
    heads = sum(page.lines[i].words for i in running.lines.get(page.pdf_page, ()))
    total = sum(line.words for line in page.lines)
    if total == 0:
        if page.pictured or page.drawn > 20:
            why = "a picture without words" if page.pictured else "a drawing without words"
            dark: PageState = "unexplained" if page.pictured else "drawing"
            return PageSeen(source, page.pdf_page, printed, dark, 0, 0, why)
        return PageSeen(source, page.pdf_page, printed, "blank")
    body = total - heads
    if body <= 0 or (body < 12 and explained == 0 and page.pdf_page not in fronts):
        return PageSeen(source, page.pdf_page, printed, "blank", total)
    if page.pdf_page in known.parts:
        return PageSeen(source, page.pdf_page, printed, "read", total)
    unread = known.unread.get(page.pdf_page, 0)
    lost = max(0, body - explained + unread)
    front = page.pdf_page in fronts and (first is None or page.pdf_page <= first)
    contents = page.pdf_page in fronts and explained < 0.2 * body
    if (front or contents) and not unread:
        if page.pictured and body < 40 and first is not None and page.pdf_page > first:
            return PageSeen(source, page.pdf_page, printed, "unexplained", total, lost, "mostly a picture")
        return PageSeen(
            source, page.pdf_page, printed, "front matter" if explained < 0.5 * body else "read", total
        )
    figures = sum(line.words for line in page.lines if line.region == "figure")
    if lost <= _FEW:
        state: PageState = "drawing" if figures > 0.8 * body else "read"
        return PageSeen(source, page.pdf_page, printed, state, total)
    if unread < lost:
        of_steps = f", {unread} of them in sentences like those of steps" if unread else ""
        why = f"{lost} of {total} words stand in no section{of_steps}"
    else:
        why = f"{lost} of {total} words are sentences like those of steps and became none"
    return PageSeen(source, page.pdf_page, printed, "unexplained", total, lost, why)


def _unread(pages: Sequence[PageText], running: Running, book: Book) -> dict[int, int]:
    """Page -> words of instructions that became no step, those in running heads and feet with them."""
    found = instructions_missed(book)
    for page in pages:
        lines = [page.lines[index] for index in running.lines.get(page.pdf_page, ())]
        words = sum(line.words for line in lines if instructs(line.text, book.language))
        if words:
            found[page.pdf_page] = found.get(page.pdf_page, 0) + words
    return found


def _report(page: PageText, seen: PageSeen, source: str, reporter: Reporter) -> None:
    cited = (Citation(source, PdfPlace(page.pdf_page, seen.printed_page), seen.why),)
    if page.words == 0:
        what = f"Page {page.pdf_page} is a picture without words: nothing on it was read."
        do = "Read it yourself, or have it scanned with text, and say what it holds."
        reporter.add("LB-R11", what, do, cited)
        return
    what = f"On page {page.pdf_page}, {seen.why}."
    do = "Look at the page and say whether anything on it belongs to the job."
    reporter.add("LB-R10", what, do, cited)
