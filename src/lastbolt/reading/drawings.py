"""Where on a page something is drawn: the drawn objects that stand together, as regions."""

from collections.abc import Sequence
from typing import NamedTuple

from lastbolt.words.citation import Box
from lastbolt.words.page import Drawn, PageLayout

_COLUMNS, _ROWS = 72, 100
_STRIDE = _COLUMNS + 1
"""From a cell of the raster to the one below: an empty column parts the rows, so that no row's end is near
the next one's beginning."""
_NEAR = tuple(row * _STRIDE + column for row in (-1, 0, 1) for column in (-1, 0, 1) if row or column)
_LEAST_OBJECTS = 4
_LEAST_AREA = 0.004
_WHOLE_PAGE = 0.75
_FEWEST_WORDS = 2
_FILLED = 0.15
"""A rounded frame is filled to this part by at least so many words."""
_LONG_RULE = 0.35


class Region(NamedTuple):
    """A drawing's box and the boxes of what is drawn in it. `small`: too little to be a drawing by itself."""

    box: Box
    drawn: tuple[Drawn, ...]
    small: bool = False


def regions_of(page: PageLayout, without: Sequence[Box] = ()) -> list[Region]:
    """The drawings on the page; tables (`without`), long rules, frames round text, backgrounds are none."""
    shapes = [
        shape
        for shape in page.drawn
        if not _is_layout(shape) and not any(_within(shape, box) for box in without)
    ]
    frames = _text_frames(page, shapes)
    shapes = [shape for shape in shapes if shape not in frames]
    if not shapes:
        return []
    regions = []
    for group in _together(shapes):
        box = _around(group)
        regions.append(Region(box, tuple(group), _is_small(group, box)))
    return regions


def _is_small(group: list[Drawn], box: Box) -> bool:
    if (box[2] - box[0]) * (box[3] - box[1]) < _LEAST_AREA:
        return True
    if any(shape.kind == "image" for shape in group):
        return False
    curved = any(shape.kind == "curve" for shape in group)
    return len(group) < (_LEAST_OBJECTS if curved else 3 * _LEAST_OBJECTS)


def _is_layout(shape: Drawn) -> bool:
    width, height = shape.right - shape.left, shape.bottom - shape.top
    if width * height > _WHOLE_PAGE:
        return True
    return shape.kind == "rule" and (width > _LONG_RULE or height > 0.6)


def _within(shape: Drawn, box: Box) -> bool:
    x, y = (shape.left + shape.right) / 2, (shape.top + shape.bottom) / 2
    return box[0] - 0.004 <= x <= box[2] + 0.004 and box[1] - 0.004 <= y <= box[3] + 0.004


def _text_frames(page: PageLayout, shapes: list[Drawn]) -> set[Drawn]:
    """Boxes (and bars) that hold several words of text: warnings, set-up blocks, headings on a tint."""
    frames: set[Drawn] = set()
    for shape in shapes:
        if shape.kind not in ("box", "curve") or shape.right - shape.left < 0.06:
            continue
        if shape.kind == "curve" and not _is_filled(page, shape):
            continue
        held = sum(
            1
            for word in page.words
            if shape.left <= word.left
            and word.right <= shape.right
            and shape.top <= (word.top + word.bottom) / 2 <= shape.bottom
            and len(word.text) > 3
        )
        inside = sum(
            1 for other in shapes if other is not shape and other.kind == "curve" and _in(other, shape)
        )
        if held >= 1 and inside < 6:
            frames.add(shape)
    return frames


def _is_filled(page: PageLayout, shape: Drawn) -> bool:
    """Whether a rounded shape is a frame of text: its words fill a good part of it."""
    held = [
        w
        for w in page.words
        if shape.left <= w.left and w.right <= shape.right and shape.top <= w.top and w.bottom <= shape.bottom
    ]
    letters = [w for w in held if len(w.text) > 3]
    area = sum((w.right - w.left) * (w.bottom - w.top) for w in held)
    whole = (shape.right - shape.left) * (shape.bottom - shape.top)
    return len(letters) >= _FEWEST_WORDS and area > _FILLED * whole


def _in(shape: Drawn, frame: Drawn) -> bool:
    return (
        frame.left <= shape.left
        and shape.right <= frame.right
        and frame.top <= shape.top
        and shape.bottom <= frame.bottom
    )


def _together(shapes: Sequence[Drawn]) -> list[list[Drawn]]:
    """Shapes grouped by the cells of a coarse raster they touch, neighbouring cells counted together."""
    cells: dict[int, list[int]] = {}
    for index, shape in enumerate(shapes):
        for cell in _cells(shape):
            cells.setdefault(cell, []).append(index)
    groups: list[list[Drawn]] = []
    grouped = [False] * len(shapes)
    seen: set[int] = set()
    for first in cells:
        if first in seen:
            continue
        seen.add(first)
        waiting, members = [first], []
        while waiting:
            cell = waiting.pop()
            for index in cells[cell]:
                if not grouped[index]:
                    grouped[index] = True
                    members.append(shapes[index])
            for step in _NEAR:
                near = cell + step
                if near in cells and near not in seen:
                    seen.add(near)
                    waiting.append(near)
        groups.append(members)
    return groups


def _cells(shape: Drawn) -> list[int]:
    left, right = int(shape.left * (_COLUMNS - 1)), int(shape.right * (_COLUMNS - 1))
    top, bottom = int(shape.top * (_ROWS - 1)), int(shape.bottom * (_ROWS - 1))
    return [row * _STRIDE + column for row in range(top, bottom + 1) for column in range(left, right + 1)]


def _around(shapes: Sequence[Drawn]) -> Box:
    return (
        min(s.left for s in shapes),
        min(s.top for s in shapes),
        max(s.right for s in shapes),
        max(s.bottom for s in shapes),
    )
