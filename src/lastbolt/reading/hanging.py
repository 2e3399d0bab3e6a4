"""Marks that no list has, told by where they stand: short signs above each other at one edge, before words
that begin at another."""

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from lastbolt.words.page import Word

_LONGEST = 4
_FEWEST = 3
"""So many stand above each other, or they are no column of marks."""
_GRID = 250
"""Edges within a 250th of the page's width are one."""


def hanging_marks(
    rows: Sequence[Sequence[Word]], width_pt: float, split_em: float, most_em: float
) -> frozenset[int]:
    """The ids of the words that are such marks; `split_em`, `most_em`: the gap behind them is between."""
    found: list[tuple[Word, tuple[int, int]]] = []
    for row in rows:
        last_right = -1.0
        for word, behind in pairwise(row):
            em = max(word.size_pt, behind.size_pt) / width_pt
            gap, before = behind.left - word.right, word.left - last_right
            last_right = word.right
            if before > split_em * em and split_em * em < gap <= most_em * em and _may_mark(word, behind):
                found.append((word, (round(word.left * _GRID), round(behind.left * _GRID))))
    count = Counter(edge for _, edge in found)
    near = {
        (left, right): sum(count[left + a, right + b] for a in (-1, 0, 1) for b in (-1, 0, 1))
        for left, right in count
    }
    return frozenset(id(word) for word, edge in found if near[edge] >= _FEWEST)


def _may_mark(word: Word, behind: Word) -> bool:
    """Whether a short sign stands before words: a letter, a letter with a number, no word and no value."""
    text = word.text.strip("().:-–")
    if not text or len(word.text) > _LONGEST or not behind.text[:1].isalpha():
        return False
    letters = sum(c.isalpha() for c in text)
    return letters <= 1 or (letters == 2 and text.isupper() and len(text) == 2)
