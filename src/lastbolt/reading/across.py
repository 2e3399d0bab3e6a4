"""What goes over all columns of a page though its words do not: headings with columns of their own below
each, and rows of pictures with a step to each picture."""

from bisect import bisect_right
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Literal, NamedTuple, TypeVar

from lastbolt.reading.page_gutter import Boxed

_EDGE = 0.02
"""Headings begin within this much of the left edge of what stands on the page."""
_LARGER = 1.08
_SHARE = 0.8
_FEWEST = 2
_NEAR = 0.4
"""Columns begin level when lines of theirs are apart by no more than this part of a line."""
_HIGHEST = 0.03
_ROOM = 0.3
"""Above and below a heading over all columns this part of its height is free at least."""

_INDENTED = 0.08
"""Marks further right than those before them by more than this stand in another column."""
_TELLING = 2
"""So many marks stand at each side of a gutter, or they do not tell how they count."""
_CLEARLY = 2
"""One way to read a page is better than its columns where marks fit so much oftener."""

One = TypeVar("One", bound=Boxed)


def heads_at_edge(items: Sequence[Boxed], em: float, width_pt: float) -> list[int]:
    """The headings at the left edge, by their places in the list."""
    least = min(item.left for item in items)
    return [
        at for at, item in enumerate(items) if item.left < least + _EDGE and _is_loud(item, em * width_pt)
    ]


def heads_across(items: Sequence[One], em: float, width_pt: float) -> list[int]:
    """The headings at the left edge, by their places in the list, over columns that begin level below."""
    if not items:
        return []
    least, most = min(item.left for item in items), max(item.right for item in items)
    middle = (least + most) / 2
    loud = [at for at, item in enumerate(items) if _is_loud(item, em * width_pt)]
    heads = [at for at in loud if items[at].left < least + _EDGE and items[at].right < most - _EDGE]
    right = [item for item in items if item.left > middle - _EDGE]
    if len(heads) < _FEWEST or any(items[at].left > middle - _EDGE for at in loud):
        return []
    free = [at for at in heads if not any(_level(items[at], other) for other in right)]
    if len(free) < max(_FEWEST, _SHARE * len(heads)):
        return []
    left = [item for at, item in enumerate(items) if at not in heads and item.right <= middle]
    begins = _begins([items[at] for at in free], left, right)
    return free if len(begins) >= _FEWEST and sum(begins) >= _SHARE * len(begins) else []


def _begins(heads: Sequence[Boxed], left: Sequence[Boxed], right: Sequence[Boxed]) -> list[bool]:
    """Of each heading with words at both sides below it, whether both sides begin level."""
    found: list[bool] = []
    tops = sorted(head.top for head in heads)
    for top, end in pairwise([*tops, 2.0]):
        sides = [[item for item in side if top < item.top < end] for side in (left, right)]
        if all(sides):
            first = min(sides[1], key=lambda item: item.top)
            near = _NEAR * min(first.bottom - first.top, _HIGHEST)
            found.append(any(abs(item.top - first.top) < near for item in sides[0]))
    return found


def _is_loud(item: Boxed, body_pt: float) -> bool:
    if item.region >= 0 or not any(c.isalpha() for word in item.words for c in word.text):
        return False
    larger = all(word.size_pt > _LARGER * body_pt for word in item.words)
    return larger or (len(item.words) > 1 and all(word.bold for word in item.words))


def _level(head: Boxed, other: Boxed) -> bool:
    """Whether something stands level with a heading, or nearer to it than the lines of a column are set."""
    room = _ROOM * (head.bottom - head.top)
    return min(head.bottom + room, other.bottom) > max(head.top - room, other.top)


class _Event(NamedTuple):
    """A heading (kind "") or the mark of a step, and where it stands."""

    kind: str
    value: int
    top: float
    left: float


def order_of(
    items: Sequence[Boxed], split: float, em: float, width_pt: float, marks: Callable[[str], bool]
) -> Literal["columns", "heads", "rows", ""]:
    """How the steps of a page with a gutter count: down its columns, down those below each heading, or along
    its rows; empty where too few marks tell.

    Args:
        items: what stands on the page
        split: where its gutter is
        em: the usual size of its letters
        width_pt: the width of the page
        marks: whether a word may be the mark of a step
    """
    least = min(item.left for item in items)
    events = [event for item in items if (event := _event(item, marks)) is not None]
    heads = [
        _Event("", 0, item.top, item.left) for item in items
        if item.left < least + _EDGE and _is_loud(item, em * width_pt)
    ]  # fmt: skip
    sides = [[one for one in events if (one.left > split) is right] for right in (False, True)]
    if min(map(len, sides)) < _TELLING:
        return ""
    every = sorted([*events, *heads], key=lambda one: one.top)
    cut = [*(head.top for head in heads)]
    edges = _columns([one.left for one in every])
    columns = _breaks(sorted(every, key=lambda one: (bisect_right(edges, one.left), one.top)))
    below = _breaks(
        sorted(every, key=lambda one: (bisect_right(cut, one.top), bisect_right(edges, one.left), one.top))
    )
    along = _breaks(_by_rows(every, em))
    best = min(columns, below, along)
    if best == columns or columns - best < _CLEARLY:
        return "columns"
    return "heads" if best == below else "rows"


def _columns(lefts: Sequence[float]) -> list[float]:
    """Where columns of marks begin: further right of the marks before than any indent."""
    placed = sorted(lefts)
    return [placed[0], *(other for one, other in pairwise(placed) if other - one > _INDENTED)]


def _event(item: Boxed, marks: Callable[[str], bool]) -> _Event | None:
    if item.region >= 0 or len(item.words) < 2 or not marks(item.words[0].text):
        return None
    sign = "".join(c for c in item.words[0].text if c.isalnum())
    if sign.isdecimal():
        return _Event("1", int(sign), item.top, item.left)
    if len(sign) == 1 and sign.isascii():
        return _Event("A" if sign.isupper() else "a", ord(sign.lower()) - 96, item.top, item.left)
    return None


def _by_rows(events: Sequence[_Event], em: float) -> list[_Event]:
    """From the top down, and what stands level from left to right."""
    rows: list[list[_Event]] = []
    for event in events:
        if rows and event.top - rows[-1][0].top < 0.5 * em:
            rows[-1].append(event)
        else:
            rows.append([event])
    return [event for row in rows for event in sorted(row, key=lambda one: one.left)]


def _breaks(events: Sequence[_Event]) -> int:
    """How often a mark neither begins nor goes on with those of its sort; after a heading all begin anew."""
    last: dict[str, int] = {}
    fresh = False
    count = 0
    for event in events:
        if not event.kind:
            fresh = True
            continue
        known = last.get(event.kind)
        goes_on = known is not None and event.value == known + 1
        count += not (event.value == 1 or goes_on or (known is None and not fresh))
        last[event.kind] = event.value
        fresh = False
    return count


def rows_of_cells(
    bands: Sequence[list[One]], gutter: tuple[float, float], marks: Callable[[str], bool]
) -> list[list[One]] | None:
    """The rows of a grid whose steps count from left to right ("1 | 2" over "3 | 4"); None when it is none.

    Args:
        bands: what stands level, from the top down
        gutter: the strip between the two sides
        marks: whether a word may be the mark of a step
    """
    pictured = any(item.region >= 0 for item in bands[0])
    rows: list[list[One]] = []
    counted: list[tuple[list[int], list[int]]] = []
    for band in bands:
        left, right = _counts(band, gutter, marks)
        begins = bool(left or right) if not pictured else any(item.region >= 0 for item in band)
        if not rows or (begins and (counted[-1][0] or counted[-1][1])):
            rows.append([])
            counted.append(([], []))
        rows[-1] += band
        counted[-1][0].extend(left)
        counted[-1][1].extend(right)
    along = [n for left, right in counted for n in (*left, *right)]
    down = [n for left, _ in counted for n in left] + [n for _, right in counted for n in right]
    several = sum(bool(left and right) for left, right in counted)
    counts_along = all(one < other for one, other in pairwise(along)) and down != along
    return rows if several and counts_along else None


def steps_beside(items: Sequence[Boxed], gutter: tuple[float, float], marks: Callable[[str], bool]) -> bool:
    """Whether a step stands level with a step at the other side, and each side begins with one."""
    sides = (
        [item for item in items if item.right <= gutter[0] + 1e-6 and item.region < 0],
        [item for item in items if item.left >= gutter[1] - 1e-6 and item.region < 0],
    )
    if not all(sides):
        return False
    firsts = [min(side, key=lambda item: (item.top, item.left)) for side in sides]
    marked = all(len(one.words) > 1 and marks(one.words[0].text) and _is_word(one) for one in firsts)
    high = min(one.bottom - one.top for one in firsts)
    return marked and abs(firsts[0].top - firsts[1].top) < 0.5 * high


def _is_word(item: Boxed) -> bool:
    """Whether what stands behind a mark begins with a letter."""
    return item.words[1].text[:1].isalpha()


def _counts(
    band: Sequence[Boxed], gutter: tuple[float, float], marks: Callable[[str], bool]
) -> tuple[list[int], list[int]]:
    """What the marks of the steps in a band count, at each side."""
    found: tuple[list[int], list[int]] = ([], [])
    for item in sorted(band, key=lambda one: one.left):
        if item.region < 0 and len(item.words) > 1 and marks(item.words[0].text):
            sign = "".join(c for c in item.words[0].text if c.isalnum())
            value = int(sign) if sign.isdecimal() else ord(sign[0].lower()) if len(sign) == 1 else -1
            if value >= 0:
                found[item.left >= gutter[1] - 1e-6].append(value)
    return found
