"""Captions of drawings that run on over a second line."""

from lastbolt.reading.flow import ended
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.marks import mark_of
from lastbolt.reading.piece import Piece
from lastbolt.reading.schema import style_of


def caption_goes_on(current: Piece, line: Line, language: Lexicon) -> bool:
    """Whether a line is the second one of the caption right above it: set alike, and that one not ended."""
    last = current.last
    word = last.text.split(" ", 1)[0].lower().rstrip(".")
    if not language.among(word, "pointing", "figure") or ended(last.text, language):
        return False
    if mark_of(line.text, language) is not None:
        return False
    close = line.top - last.bottom < 0.75 * (last.bottom - last.top)
    return close and style_of(line) == style_of(last) and line.italic == last.italic
