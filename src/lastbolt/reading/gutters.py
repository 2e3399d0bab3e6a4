"""The free strips between the columns of a table without rules."""

from collections.abc import Sequence
from itertools import pairwise

from lastbolt.words.page import Word

_FREE_EM = 0.35
"""A strip as wide as this parts two columns."""
_NARROW_EM = 0.12
"""A strip as narrow as this does where the word behind it begins just below one of an earlier row."""


class Gutters:
    """The free strips between neighbouring headings, narrowed by each row that is taken in."""

    def __init__(self, phrases: Sequence[Sequence[Word]], em: float) -> None:
        self.em = em
        self.lefts: list[float] = []
        middles = [(p[0].left + p[-1].right) / 2 for p in phrases]
        self.strips = [[(a, b)] for a, b in pairwise(middles)]
        self.take([word for phrase in phrases for word in phrase])

    def after(self, row: Sequence[Word]) -> list[list[tuple[float, float]]] | None:
        """The strips with the row's words cut out, or None when one would be closed."""
        narrowed = []
        for strip in self.strips:
            pieces = strip
            for word in row:
                pieces = [piece for free in pieces for piece in _cut(free, word.left, word.right)]
            pieces = [piece for piece in pieces if piece in strip or self._parts(piece, row)]
            if not pieces:
                return None
            narrowed.append(pieces)
        return narrowed

    def _parts(self, piece: tuple[float, float], row: Sequence[Word]) -> bool:
        """Whether a strip is wide enough to part columns; a narrow one where this row begins behind it."""
        width = piece[1] - piece[0]
        if width > _FREE_EM * self.em:
            return True
        near = 0.1 * self.em
        begins = any(abs(word.left - piece[1]) < near for word in row)
        return (
            begins
            and width > _NARROW_EM * self.em
            and sum(abs(left - piece[1]) < near for left in self.lefts) > 1
        )

    def take(self, row: Sequence[Word]) -> bool:
        """Take in a row; False, and nothing taken, where it would close a strip."""
        narrowed = self.after(row)
        if narrowed is None:
            return False
        self.strips = narrowed
        self.lefts += [word.left for word in row]
        return True

    def bounds(self) -> list[float]:
        """The middle of the widest strip of each pair."""
        widest = [max(strip, key=lambda piece: piece[1] - piece[0]) for strip in self.strips]
        return [(a + b) / 2 for a, b in widest]


def _cut(free: tuple[float, float], left: float, right: float) -> list[tuple[float, float]]:
    a, b = free
    if right <= a or left >= b:
        return [free]
    return [piece for piece in ((a, left), (right, b)) if piece[1] > piece[0]]


def free_strips(rows: Sequence[Sequence[Word]], em: float) -> list[float]:
    """Where columns part: the middles of strips that stay free in all rows.

    A narrow strip parts columns too where several rows begin right behind it.
    """
    spans = sorted((word.left, word.right) for row in rows for word in row)
    found: list[float] = []
    reach = spans[0][1] if spans else 0.0
    for left, right in spans[1:]:
        wide = left - reach > _FREE_EM * em
        if wide or (
            left - reach > _NARROW_EM * em and sum(abs(one - left) < 0.1 * em for one, _ in spans) > 2
        ):
            found.append((left + reach) / 2)
        reach = max(reach, right)
    return found
