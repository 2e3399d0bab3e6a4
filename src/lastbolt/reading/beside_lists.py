"""Lines of a page that name fasteners and became nothing: below a parts list, on a supplement's page, in a
caption without a drawing."""

import re
from collections.abc import Sequence

from lastbolt.reading.drafts import Book, SectionDraft
from lastbolt.reading.fasteners import fastener_nouns
from lastbolt.reading.figures import FoundFigure
from lastbolt.reading.legends import without_numbers
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.piece import Piece
from lastbolt.reading.running import PageText, Running
from lastbolt.reading.table_words import table_words
from lastbolt.reading.tokens import sizes_in
from lastbolt.words.page import Aside

_MARK = re.compile(r"(?<!\S)\(?[A-Z]?\d{1,3}[a-z]?[.):=]{0,2}(?:\s(?=([^\W\d_]+))|$)")
"""A number in a legend, or before a step, and the word behind it."""


def with_fasteners_beside(
    pages: Sequence[PageText],
    running: Running,
    book: Book,
    unread: Sequence[SectionDraft],
    language: Lexicon,
) -> list[PageText]:
    """The pages with such lines among what stands aside. `unread`: sections of which nothing was made."""
    lost: dict[int, set[Line]] = {}
    captions = [piece for section in book.sections for piece in section.figures]  # of no drawing
    for piece in (*book.before, *captions, *(piece for section in unread for piece in _pieces(section))):
        for at in piece.lines:
            lost.setdefault(at.pdf_page, set()).add(at.line)
    found = []
    for page in pages:
        heads = running.lines.get(page.pdf_page, frozenset())
        lines = [line for number, line in enumerate(page.lines) if number not in heads]
        named = [line for line in lost.get(page.pdf_page, ()) if _names_a_fastener(line, language)]
        told = [line for line in lines if any(_stands_in(one, line) for one in named)]
        found.append(page._replace(asides=(*page.asides, _together(told))) if told else page)
    return found


def _stands_in(piece: Line, line: Line) -> bool:
    """Whether a line that was read is one of the page, or a part of it.

    "To fit it. Two bolts ..." is cut behind its heading; the pieces keep the line's height.
    """
    if line.region or piece.column != line.column:
        return False
    across = min(piece.right, line.right) - max(piece.left, line.left)
    return across > 0 and piece.top <= (line.top + line.bottom) / 2 <= piece.bottom


def _together(lines: Sequence[Line]) -> Aside:
    """The lines of one page as one thing to look at."""
    box = (
        min(line.left for line in lines),
        min(line.top for line in lines),
        max(line.right for line in lines),
        max(line.bottom for line in lines),
    )
    return Aside("beside", " / ".join(line.text.replace("\t", " ") for line in lines), box)


def legends_told(figures: Sequence[FoundFigure], language: Lexicon) -> tuple[Aside, ...]:
    """The captions whose legends run on and name fasteners with sizes or counts: no row is made of them."""
    found = []
    for figure in figures:
        named = [words for _, words in figure.caption.legend if speaks_of_a_fastener(words, language)]
        if named:
            found.append(Aside("beside", "; ".join(named), figure.caption.box))
    return tuple(found)


def _pieces(section: SectionDraft) -> list[Piece]:
    pieces = [piece for item in section.items for piece in item.pieces]
    return [*pieces, *(piece for item in section.items for child in item.children for piece in child.pieces)]


def _names_a_fastener(line: Line, language: Lexicon) -> bool:
    """Whether a line has a fastener's word with a number, or a thread."""
    return not line.region and speaks_of_a_fastener(without_numbers(line.text), language)


def _counts(match: "re.Match[str]", language: Lexicon) -> bool:
    """Whether a number before a word counts: "7 off", "2 bolts", and not "3. Bolt", "4 Cover"."""
    word = (match[1] or "").lower()
    if word in table_words().known("quantity"):
        return True
    plural = any(word.endswith(ending) for ending in language.words("endings", "plural") if ending)
    return plural and match.group().strip().isdigit() and bool(fastener_nouns(language.scan(word)))


def speaks_of_a_fastener(words: str, language: Lexicon) -> bool:
    """Whether words name a fastener with its size or a count; numbers of a legend or of steps are none."""
    if any(size.thread and not size.plain and size.length_mm for size in sizes_in(words)):
        return True  # "M10 x 90": its "M10" is no number of a legend
    words = _MARK.sub(lambda match: match.group() if _counts(match, language) else " ", words)
    if not any(c.isdigit() for c in words):
        return False
    if any(not size.plain for size in sizes_in(words)):
        return True
    return bool(fastener_nouns(language.scan(words)))
