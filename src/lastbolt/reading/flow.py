"""Whether a line goes on with the piece above it, or begins something new."""

from typing import NamedTuple

from lastbolt.reading.indents import begins_paragraph, follows, is_indented
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.marks import mark_of
from lastbolt.reading.piece import END, INDENT, STEPS, At, Piece
from lastbolt.reading.step_runs import bids

_SHORT = 0.12
"""A line with a full stop that ends this much before the longest one above ends its paragraph."""
THINGS = ("tools", "materials", "models", "people", "time")
"""Labelled blocks that list things."""
_CLOSED = (".", ":", "!", "?", ";")


def ended(text: str, language: Lexicon) -> bool:
    """Whether a text has come to the end of a sentence; "see para." has not."""
    return text.rstrip().endswith(_CLOSED) and not wants_number(text, language)


def wants_number(text: str, language: Lexicon) -> bool:
    """Whether a text's last word is a short form that a number follows: "see para."."""
    word = text.rsplit(None, 1)[-1].lower().lstrip("(") if text.strip() else ""
    return word.endswith(".") and word[:-1] in language.abbreviations


def near(current: Piece, at: At) -> bool:
    """Whether a line stands on the page and in the column where the piece above ends."""
    return current.lines[-1].pdf_page == at.pdf_page and current.last.column == at.line.column


def is_open(current: Piece, at: At, language: Lexicon) -> bool:
    """Whether the piece above has not come to its end and stands right above."""
    close = near(current, at) and at.line.top - current.last.bottom < 0.02
    return current.kind in ("text", "step", "caution") and close and not ended(current.text, language)


class Habits(NamedTuple):
    """What the book has shown of its paragraphs up to here."""

    indents: frozenset[int] = frozenset()
    """Where the indented first lines of paragraphs begin."""
    hang: bool = False
    """Whether the lines of a step hang to the right of its mark here."""


def goes_on(current: Piece, at: At, following: Line | None, language: Lexicon, habits: Habits) -> bool:
    """Whether a line without mark or style of its own belongs to the piece above.

    Args:
        current: the piece above
        at: the line
        following: the line below it
        language: the words of the language
        habits: of the book
    """
    line, last = at.line, current.last
    closed_kind = current.kind in ("table", "figure", "contents", "heading") or current.name == END
    if closed_kind or last.region == STEPS or _orders(current, line, language):
        return False
    if current.kind in ("caution", "step") and len(current.lines) == 1 and not current.text:
        return True
    closed = ended(current.text, language)
    if line.boxed != last.boxed:
        header = current.kind == "caution" and len(current.lines) == 1 and line.boxed != 0
        return header and not current.text
    same_page = current.lines[-1].pdf_page == at.pdf_page
    if current.kind in ("caution", "label") and line.boxed and same_page:
        return True
    if not near(current, at):
        return not closed and line.text[:1].islower()
    height = max(last.bottom - last.top, 1e-6)
    gap = line.top - last.bottom
    if gap > 0.75 * height or gap < -height:
        return False
    if abs(line.size_pt - last.size_pt) > 1.2 and current.kind != "caution":
        return False
    if closed and _opens(current, line, following, language, habits):
        return False
    if closed and current.kind == "label" and current.name not in ("before", "after", "references"):
        return not (current.text and line.text[:1].isupper() and line.left < current.left + INDENT)
    if closed and current.kind == "step" and habits.hang and line.left < current.left + INDENT:
        return False
    if closed and current.kind == "text" and line.text[:1].isupper() and len(current.lines) > 1:
        right = max(one.line.right for one in current.lines)
        if last.right < right - _SHORT and not line.boxed:
            return False
    return not (closed and line.left < current.left - INDENT and current.kind != "text")


def _orders(current: Piece, line: Line, language: Lexicon) -> bool:
    """Whether a line below a list of things, or below states that are asked for, begins a sentence that tells
    what to do."""
    if current.kind != "label" or not line.text[:1].isupper() or line.left >= current.left + INDENT:
        return False
    if current.name not in THINGS and (current.name != "before" or not _asks_for_states(current, language)):
        return False
    return bids(line.text, language) or language.scan(line.text).has("reverse", "words")


def _asks_for_states(current: Piece, language: Lexicon) -> bool:
    """Whether a block has begun with something that is no order, and its last line is whole."""
    words = current.last.text.rstrip().split()
    whole = bool(words) and not language.among(words[-1].lower().strip(".("), "stop")
    said = current.text.strip()
    return bool(said) and whole and not said.endswith((",", ";", "-", "(")) and not bids(said, language)


def _opens(current: Piece, line: Line, following: Line | None, language: Lexicon, habits: Habits) -> bool:
    """Whether a line is the first of a paragraph, where the piece above has come to its end."""
    last = current.last
    if current.kind == "caution" and last.italic and not line.italic:
        return True
    if current.kind not in ("caution", "label", "text"):
        return False
    if (
        following is not None
        and follows(line, following)
        and is_indented(line, following)
        and not ended(line.text, language)
    ):
        return mark_of(following.text, language) is None
    inset = len(current.lines) > 1 and abs(current.lines[1].line.left - line.left) < INDENT / 3
    return not (inset or line.italic) and begins_paragraph(line, habits.indents)
