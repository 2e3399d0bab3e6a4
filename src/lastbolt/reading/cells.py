"""Frames that rules cut into cells side by side: a set-up block in two halves, read cell by cell."""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from lastbolt.reading.columns import Item
from lastbolt.words.page import Drawn

_THIN = 0.006
_LEAST_HIGH = 0.02
_LEAST_WIDE = 0.2
_TOUCH = 0.008


class Frame(NamedTuple):
    """A frame with upright rules in it."""

    left: float
    top: float
    right: float
    bottom: float
    dividers: tuple[float, ...]


def frames_of_cells(drawn: Sequence[Drawn]) -> list[Frame]:
    """The frames on a page that upright rules part, from the top down."""
    across = [d for d in drawn if d.bottom - d.top < _THIN and d.right - d.left >= _LEAST_WIDE]
    upright = [d for d in drawn if d.right - d.left < _THIN and d.bottom - d.top >= _LEAST_HIGH]
    found: dict[tuple[int, int], list[float]] = {}
    ends: dict[tuple[int, int], tuple[float, float, float, float]] = {}
    for rule in upright:
        over = [a for a in across if abs(a.top - rule.top) < _TOUCH and _spans(a, rule)]
        under = [a for a in across if abs(a.bottom - rule.bottom) < _TOUCH and _spans(a, rule)]
        if not over or not under:
            continue
        left, right = max(over[0].left, under[0].left), min(over[0].right, under[0].right)
        if left + _TOUCH < rule.left and rule.right < right - _TOUCH:
            key = (round(left * 100), round(rule.top * 100))
            found.setdefault(key, []).append((rule.left + rule.right) / 2)
            ends[key] = (left, rule.top, right, rule.bottom)
    frames = [Frame(*ends[key], tuple(sorted(dividers))) for key, dividers in found.items()]
    return sorted(frames, key=lambda frame: (frame.top, frame.left))


def _spans(across: Drawn, upright: Drawn) -> bool:
    return across.left - _TOUCH < upright.left and upright.right < across.right + _TOUCH


def cell_by_cell(items: list[Item], frames: Sequence[Frame]) -> list[list[Item]]:
    """The items above each frame, those of its cells one after the other, and those below the last."""
    parts: list[list[Item]] = []
    rest = items
    for frame in frames:
        inside = [i for i in rest if frame.top <= (i.top + i.bottom) / 2 <= frame.bottom]
        if not _is_framed(inside, frame):
            continue
        above = [i for i in rest if (i.top + i.bottom) / 2 < frame.top]
        taken = {id(i) for i in (*inside, *above)}
        rest = [i for i in rest if id(i) not in taken]
        edges = [frame.left, *frame.dividers, frame.right + 1.0]
        cells = [[i for i in inside if low - _TOUCH <= i.left < high] for low, high in pairwise(edges)]
        parts += [part for part in (above, *cells) if part]
    return [*parts, rest] if rest else parts


def _is_framed(items: list[Item], frame: Frame) -> bool:
    """Whether all that is level with a frame stands in its cells, in several lines."""
    if not items or any(i.region >= 0 for i in items):
        return False
    within = all(frame.left - _TOUCH <= i.left and i.right <= frame.right + _TOUCH for i in items)
    crossing = any(i.left < at < i.right for i in items for at in frame.dividers)
    height = min(i.bottom - i.top for i in items)
    tall = max(i.top for i in items) - min(i.top for i in items) > 0.8 * height
    return within and not crossing and tall
