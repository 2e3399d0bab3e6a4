"""The gutter of a page of columns, seen on the page as a whole: a strip that stays white over many rows, with
running text at both its sides."""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from typing import NamedTuple, Protocol, TypeVar

from lastbolt.words.page import Word

_NARROWEST_EM = 1.2
"""A gutter is at least so wide."""
_LEAST_ROWS = 6
"""So many lines stand at each side of it, or it is no gutter of a page."""
_LEAST_HIGH = 0.15
"""It is so high, in parts of the page."""
_NARROWEST = 0.13
"""A column of text is so wide."""
_FULL = 0.8
"""A line that fills its column to this part may be wrapped."""
_TEXT = 3
"""So many lines of a column are steps or go on with the line above, or it is a column of a table."""
_OF_A_FIGURE = 2
"""A drawing among the lines counts as so many of them; text it is none."""
_STEPS = 160
"""At so many places over the page's width a gutter is looked for."""


class Placed(Protocol):
    """Anything with a box around it."""

    @property
    def left(self) -> float:
        """Its left end."""

    @property
    def top(self) -> float:
        """Its upper end."""

    @property
    def right(self) -> float:
        """Its right end."""

    @property
    def bottom(self) -> float:
        """Its lower end."""


class Boxed(Placed, Protocol):
    """Words with the box around them; `region`: not below 0 where another reader explains it."""

    @property
    def words(self) -> tuple[Word, ...]:
        """Its words."""

    @property
    def region(self) -> int:
        """The region it is, or less than 0."""


One = TypeVar("One", bound=Boxed)


class Gutter(NamedTuple):
    """A white strip between two columns of a page."""

    left: float
    right: float
    top: float
    bottom: float

    @property
    def high(self) -> float:
        """Its height."""
        return self.bottom - self.top

    def side(self, one: "Placed") -> str:
        """Where something stands: "above" it, "left", "right" or "below"."""
        if one.top < self.top - 1e-6:
            return "above"
        if one.bottom > self.bottom + 1e-6:
            return "below"
        return "left" if (one.left + one.right) < self.left + self.right else "right"


def page_gutter(items: Sequence[Boxed], em: float, marks: Callable[[str], bool]) -> Gutter | None:
    """The highest gutter that parts columns of text, or None; of equally high ones the leftmost.

    Args:
        items: what stands on the page
        em: the usual size of its letters
        marks: whether a word may be the mark of a step
    """
    if len(items) < 2 * _LEAST_ROWS:
        return None
    strips = [one for one in _strips(items) if one.right - one.left >= _NARROWEST_EM * em]
    best: Gutter | None = None
    for one in strips:
        if best is not None and one.high <= 1.02 * best.high:
            continue
        within = [i for i in items if i.top >= one.top - 1e-6 and i.bottom <= one.bottom + 1e-6]
        beside = [other for other in strips if other.top < one.bottom and other.bottom > one.top]
        firsts = [0.0, *(other.right for other in beside if other.right < one.left)]
        lasts = [1.0, *(other.left for other in beside if other.left > one.right)]
        left = [i for i in within if i.right <= one.left + 1e-6]
        right = [i for i in within if i.left >= one.right - 1e-6]
        if any(_is_text([i for i in left if i.left >= first - 1e-6], marks) for first in firsts) and any(
            _is_text([i for i in right if i.right <= last + 1e-6], marks) for last in lasts
        ):
            best = one
    return best


def _strips(items: Sequence[Boxed]) -> list[Gutter]:
    """For places over the width the highest run that nothing crosses, as wide as it stays white."""
    least, most = min(i.left for i in items), max(i.right for i in items)
    ends = min(i.top for i in items), max(i.bottom for i in items)
    found: dict[Gutter, None] = {}
    by_top = sorted(items, key=lambda i: i.top)
    edges = sorted(edge for i in items for edge in (i.left, i.right))
    before = (0, 0)
    for step in range(1, _STEPS):
        x = least + (most - least) * step / _STEPS
        between = bisect_left(edges, x), bisect_right(edges, x)
        if between == before:
            continue  # nothing begins or ends since the last place: the same strip
        before = between
        below, best = ends[0], (0.0, 0.0)
        for item in by_top:
            if item.left < x < item.right:
                if item.top - below > best[1] - best[0]:
                    best = below, item.top
                below = max(below, item.bottom)
        if ends[1] - below > best[1] - best[0]:
            best = below, ends[1]
        if best[1] - best[0] >= _LEAST_HIGH:
            within = [i for i in items if i.top >= best[0] - 1e-6 and i.bottom <= best[1] + 1e-6]
            left = max((i.right for i in within if i.right <= x), default=0.0)
            right = min((i.left for i in within if i.left >= x), default=1.0)
            found.setdefault(Gutter(left, right, *best))
    return list(found)


def _is_text(items: Sequence[Boxed], marks: Callable[[str], bool]) -> bool:
    """Whether lines are a column of running text: wide enough, and some of them are steps or are wrapped."""
    if not items or max(i.right for i in items) - min(i.left for i in items) < _NARROWEST:
        return False
    drawings = sum(item.region >= 0 for item in items)
    rows = rows_of([item for item in items if item.region < 0])
    if len(rows) + _OF_A_FIGURE * drawings < _LEAST_ROWS:
        return False
    width = max(i.right for i in items) - min(i.left for i in items)
    text, full = 0, False
    for row in rows:
        words = [word for item in row for word in item.words]
        wrapped = full and words[0].text[:1].islower()
        marked = len(words) > 2 and marks(words[0].text) and words[1].text[:1].isalpha()
        text += wrapped or marked
        full = words[-1].right - row[0].left > _FULL * width
    return text >= _TEXT


def rows_of(items: Sequence[One]) -> list[list[One]]:
    """What stands level with each other, from the top down."""
    rows: list[list[One]] = []
    for item in sorted(items, key=lambda i: (i.top + i.bottom, i.left)):
        middle = (item.top + item.bottom) / 2
        if rows and rows[-1][0].top < middle < rows[-1][0].bottom:
            rows[-1].append(item)
        else:
            rows.append([item])
    for row in rows:
        row.sort(key=lambda i: i.left)
    return rows
