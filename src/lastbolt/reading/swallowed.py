"""What stands where in a book, and the instructions that were taken for a drawing, a table or a list."""

import re
from collections.abc import Iterator
from typing import NamedTuple

from lastbolt.reading.drafts import Book, SectionDraft
from lastbolt.reading.lexicon import WORD, Lexicon
from lastbolt.reading.marks import mark_of
from lastbolt.reading.mentions import facts_in
from lastbolt.reading.piece import Piece
from lastbolt.reading.sentences import sentences
from lastbolt.reading.steps import is_work

READ_BLOCKS = ("before", "after", "references", "needs")
"""Labelled blocks whose entries are read as references; in the others things are named."""
_FEWEST = 4
"""An instruction has at least so many words; a name in a drawing or a list seldom has."""


class Place(NamedTuple):
    """A piece of a book and the section it stands in; `swallowed`: taken for no instruction."""

    piece: Piece
    section: SectionDraft | None
    swallowed: bool


def places(book: Book) -> Iterator[Place]:
    """Every piece of a book but its headings and its table of contents."""
    for piece in book.before:
        yield Place(piece, None, True)
    for section in book.sections:
        for piece in (*section.tables, *section.figures):
            yield Place(piece, section, True)
        for item in section.items:
            swallowed = item.kind == "label" and item.name not in READ_BLOCKS
            for one in (item, *item.children):
                for piece in one.pieces:
                    yield Place(piece, section, swallowed)


def instructions_missed(book: Book) -> dict[int, int]:
    """Page -> how many words that became no step tell somebody to take something off or put it on."""
    found: dict[int, int] = {}
    known = {id(section) for section in (book.sections if book.telling is None else book.telling)}
    for place in places(book):
        if place.swallowed:
            texts = [(at.pdf_page, at.line.text) for at in place.piece.lines]
        elif place.piece.kind == "text" and _mute(place.section, known, book.language):
            page = place.piece.lines[0].pdf_page
            texts = [(page, sentence) for sentence in sentences(place.piece.text, book.language)]
        else:
            continue
        for page, text in texts:
            if instructs(text, book.language):
                found[page] = found.get(page, 0) + len(text.split())
    for page, words in _untaken(book).items():
        found[page] = max(found.get(page, 0), words)
    return found


def _untaken(book: Book) -> dict[int, int]:
    """Page -> words of sections that read like instructions and have no step."""
    found: dict[int, int] = {}
    for section in book.sections:
        for at in section.untaken:
            found[at.pdf_page] = found.get(at.pdf_page, 0) + at.line.words
    return found


def _mute(section: SectionDraft | None, known: set[int], language: Lexicon) -> bool:
    """Whether a section became no procedure, and is not for all work in general."""
    return section is not None and id(section) not in known and not in_general(section, language)


def in_general(section: SectionDraft, language: Lexicon) -> bool:
    """Whether a section, or one above it, is for all work in general: "Safety", "About this manual"."""
    above: SectionDraft | None = section
    while above is not None:
        words = re.findall(r"[^\W\d_]+(?:\sthis)?", above.title.lower())
        if any(language.among(word, "titles", "general") for word in words):
            return True
        above = above.parent
    return False


def instructs(text: str, language: Lexicon) -> bool:
    """Whether words tell somebody to take something off or put it on, as a step does."""
    marked = mark_of(text, language)
    words = (marked[1] if marked is not None else text).replace("\t", " ").strip()
    opening = WORD.search(words)
    if opening is None or not language.opens(opening.group().lower(), "deeds"):
        return False
    scan = language.scan(words)
    if len(scan.tokens) < _FEWEST:
        return False
    first = [hit for hit in scan.of("deeds") if hit.first == 0 and hit.form == "base"]
    if not first:
        return False
    noun = any(language.among(words[hit.start : hit.end].lower(), "deed_nouns") for hit in first)
    behind = scan.tokens[first[0].last].low if first[0].last < len(scan.tokens) else ""
    article = language.among(behind, "stop", "in_sentences" if noun else "articles")  # "Part   New, mm"
    counted = not noun and (behind in language.numbers or behind.isdigit())
    if not (article or counted) and (noun or not words.endswith(".")):
        return False
    return is_work(facts_in(scan, language, callouts_in_brackets=False).deeds)
