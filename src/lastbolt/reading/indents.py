"""Whether a book indents the first lines of its paragraphs, and where these lines then begin."""

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import pairwise

from lastbolt.reading.lines import Line
from lastbolt.reading.piece import INDENT

_DEEPEST = 0.08
"""The first line of a paragraph is indented by no more than this."""
_FEWEST = 4
_ENDS = (".", ":", "!", "?", ";")


def learn_indents(pages: Iterable[Sequence[Line]]) -> frozenset[int]:
    """The places (see `level`) where indented first lines begin; none in a book without the habit."""
    indented: Counter[int] = Counter()
    flush: Counter[int] = Counter()
    for lines in pages:
        for line, below in pairwise(lines):
            if not follows(line, below) or line.italic:
                continue
            if is_indented(line, below):
                indented[level(line)] += not line.text.rstrip().endswith(_ENDS)
            elif abs(line.left - below.left) < INDENT / 3:
                flush[level(line)] += 1
    return frozenset(at for at, count in indented.items() if count >= max(_FEWEST, _near(flush, at)))


def level(line: Line) -> int:
    """Where a line begins, coarsely."""
    return round(line.left * 200)


def begins_paragraph(line: Line, indents: frozenset[int]) -> bool:
    """Whether a line begins where the indented first lines of this book's paragraphs do."""
    at = level(line)
    return bool(indents) and not indents.isdisjoint((at - 1, at, at + 1))


def follows(line: Line, below: Line) -> bool:
    """Whether a line of plain text stands right below another of the same type."""
    height = line.bottom - line.top
    same = below.column == line.column and not (line.region or below.region or below.bold)
    return (
        same and abs(below.size_pt - line.size_pt) < 1.2 and -height < below.top - line.bottom < 0.75 * height
    )


def is_indented(line: Line, below: Line) -> bool:
    """Whether a line begins right of the one below it, as the first of a paragraph does."""
    return INDENT < line.left - below.left < _DEEPEST


def _near(count: Counter[int], at: int) -> int:
    return count[at - 1] + count[at] + count[at + 1]
