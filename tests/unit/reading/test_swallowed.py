"""Sentences like those of steps that were taken for a drawing count as unread; names in a drawing do not."""

import pytest

from lastbolt.reading.drafts import Book
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.piece import At, Piece
from lastbolt.reading.swallowed import instructions_missed


def piece(kind: str, text: str, words: int) -> Piece:
    region = "" if kind == "heading" else kind
    return Piece(kind, At(3, Line(text, 0.1, 0.2, 0.6, 0.22, 10.0, False, 0, words, region=region)), text)


def missed(text: str, words: int, kind: str = "figure") -> dict[int, int]:
    book = Book(lexicon())
    book.add(piece("heading", "Pump: Removal", 2))
    book.add(piece(kind, text, words))
    return instructions_missed(book)


@pytest.mark.parametrize("kind", ["figure", "table"])
@pytest.mark.parametrize(
    ("text", "words"),
    [("4)\tTake the lid off, page 5 - 1.", 9), ("Remove the lid and the gasket below it.", 8)],
)
def test_words_of_steps_count_as_unread(text, words, kind):
    assert missed(text, words, kind) == {3: words}


@pytest.mark.parametrize(
    "text", ["7 Drain plug", "Lid", "Lift here", "3\tInsert, threaded, M6", "Mount, rubber, rear, two off"]
)
def test_names_in_a_drawing_do_not(text):
    assert missed(text, len(text.split())) == {}


TOLD = "The pump is small. Remove the lid and the gasket."


def test_sentences_of_steps_in_a_section_that_became_no_procedure_count_as_unread():
    book = Book(lexicon())
    book.add(piece("heading", "Pump", 1))
    book.add(piece("text", TOLD, 10))
    assert instructions_missed(book) == {}
    book.telling = []
    assert instructions_missed(book) == {3: 6}


@pytest.mark.parametrize("title", ["General information", "Workshop practice", "About this book"])
def test_what_is_said_for_all_work_in_general_is_no_lost_step(title):
    book = Book(lexicon())
    book.add(piece("heading", title, 2))
    book.add(piece("text", TOLD, 10))
    book.telling = []
    assert instructions_missed(book) == {}


def test_sentences_of_steps_before_the_first_heading_count_as_unread():
    """A book none of whose headings was seen is no front matter."""
    book = Book(lexicon())
    book.add(piece("text", "Undo four bolts, M6 x 30, and lift.", 8))
    assert instructions_missed(book) == {3: 8}


def test_a_heading_of_a_table_is_no_order():
    assert missed("Part\tNew, mm\tWorn, mm", 5, "table") == {}
