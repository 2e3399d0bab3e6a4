"""A narrow column of headings, cautions or notes beside a wide one: each is read where it stands level."""

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import TypeVar

from lastbolt.reading.page_gutter import Boxed, rows_of

_NARROW = 0.6
"""The one column is at most so wide as this part of the other, and has at most this part of its rows."""
_LEVEL = 0.45
"""A block is level with a line whose top is at most this part of a line away."""
_GAP = 0.8
"""Blocks stand apart by more than this part of a line."""
_SHARE = 0.6
_LEAST = 4
_LOUD = 3

One = TypeVar("One", bound=Boxed)


def read_beside(
    left: Sequence[One], right: Sequence[One], marks: Callable[[str], bool]
) -> list[list[One]] | None:
    """The items of two columns in turns, where one holds blocks that belong to lines of the other; else None.

    Args:
        left: what stands in the left column
        right: what stands in the right column
        marks: whether a word may be the mark of a step
    """
    narrow, wide = sorted((left, right), key=_width)
    if any(item.region >= 0 for item in narrow) or not narrow or not wide:
        return None
    rows = rows_of([item for item in wide if item.region < 0])
    blocks = _blocks(narrow)
    few = sum(len(block) for block in blocks) <= _NARROW * len(rows)
    if len(rows) < _LEAST or not few or _width(narrow) > _NARROW * _width(wide):
        return None
    tops = [min(item.top for item in row) for row in rows]
    height = min(item.bottom - item.top for row in rows for item in row)
    level = [min(abs(top - _top(block)) for top in tops) <= _LEVEL * height for block in blocks]
    if sum(level) < _SHARE * len(blocks) or (len(blocks) < 2 and not _is_loud(blocks[0])):
        return None
    places = sorted((_place(block, rows, height, marks), n, block) for n, block in enumerate(blocks))
    parts: list[list[One]] = []
    above = -1.0
    for place, _, block in places:
        parts.append([item for item in wide if above <= item.top < place])
        parts.append([item for row in block for item in row])
        above = place
    parts.append([item for item in wide if item.top >= above])
    return [part for part in parts if part]


def _width(items: Sequence[Boxed]) -> float:
    return max(i.right for i in items) - min(i.left for i in items) if items else 0.0


def _top(block: Sequence[Sequence[Boxed]]) -> float:
    return min(item.top for item in block[0])


def _blocks(items: Sequence[One]) -> list[list[list[One]]]:
    """The rows of the narrow column, those close together in one block; bold type begins another."""
    rows = rows_of(items)
    blocks = [rows[:1]]
    for before, row in pairwise(rows):
        gap = min(i.top for i in row) - max(i.bottom for i in before)
        height = row[0].bottom - row[0].top
        fresh = row[0].words[0].bold and not before[0].words[0].bold
        if gap > _GAP * height or fresh:
            blocks.append([row])
        else:
            blocks[-1].append(row)
    return blocks


def _is_loud(block: Sequence[Sequence[Boxed]]) -> bool:
    """Whether a block begins with a heading or a signal word, which stand before what they are for."""
    first = block[0][0].words[0]
    return first.bold or (len(first.text) > _LOUD and first.text.isupper())


def _place(
    block: Sequence[Sequence[Boxed]],
    rows: Sequence[Sequence[Boxed]],
    height: float,
    marks: Callable[[str], bool],
) -> float:
    """Before which top of the wide column a block is read: that of its line, or of the next paragraph."""
    top = _top(block) - _LEVEL * height
    if _is_loud(block):
        return top
    for before, row in pairwise(rows):
        begin = min(item.top for item in row)
        apart = begin - max(item.bottom for item in before) > _GAP * height
        if begin > top + 2 * _LEVEL * height and (apart or marks(row[0].words[0].text)):
            return begin - _LEVEL * height
    return 2.0
