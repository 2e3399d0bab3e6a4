"""The lines of all pages into a book of sections, with what the book shows of its own words on the way."""

from collections.abc import Sequence
from typing import NamedTuple

from lastbolt.reading.contents import contents_pages
from lastbolt.reading.covers import cover_pages
from lastbolt.reading.drafts import Book
from lastbolt.reading.heading_numbers import number_headings
from lastbolt.reading.lexicon import lexicon, lexicon_of_book
from lastbolt.reading.lines import Line
from lastbolt.reading.page_notes import notes_of, with_notes
from lastbolt.reading.page_words import words_of_pages
from lastbolt.reading.pieces import pieces_of
from lastbolt.reading.running import PageText, Running
from lastbolt.reading.schema import Schema
from lastbolt.reading.section_ends import section_ends
from lastbolt.reading.step_runs import learn_marks


class Gathered(NamedTuple):
    """The sections, and the lines without the notes at the foot of their pages."""

    book: Book
    body: list[tuple[int, list[Line]]]


def gathered(
    lines: Sequence[tuple[int, list[Line]]],
    schema: Schema,
    pages: Sequence[PageText],
    running: Running,
    language_file: str,
) -> Gathered:
    """The book of these lines; its language knows the words by which it calls its sections and pages."""
    language = lexicon(language_file)
    parted = {pdf_page: notes_of(pdf_page, found) for pdf_page, found in lines}
    body = [(pdf_page, found) for pdf_page, (found, _) in parted.items()]
    contents = contents_pages(body, language) | cover_pages(body, language)
    learned = learn_marks(body, schema, language, contents)
    ends = section_ends(body, schema, language)
    pieces = list(pieces_of(iter(body), schema, language, contents, learned, ends))
    called = number_headings(pieces, language), words_of_pages(pages, running, language)
    book = Book(lexicon_of_book(language_file, *called))
    for piece in with_notes(pieces, {page: notes for page, (_, notes) in parted.items() if notes}):
        book.add(piece)
    return Gathered(book, body)
