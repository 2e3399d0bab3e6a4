"""Ruled grids on a page: where horizontal and vertical lines make rows and columns."""

from bisect import bisect_right
from collections.abc import Iterable
from typing import NamedTuple

from lastbolt.words.page import Drawn, PageLayout

_NEAR_PT = 2.0
_SHORTEST_PT = 6.0
_LEAST_LINES = 3
_MOST_LINES = 1500
"""More lines than this on one page are a drawing, not tables."""


class _Line(NamedTuple):
    at: float
    low: float
    high: float


class Grid(NamedTuple):
    """Column edges, row edges, and for each inner column edge the spans it is really drawn over."""

    xs: tuple[float, ...]
    ys: tuple[float, ...]
    drawn: tuple[tuple[tuple[float, float], ...], ...]
    part: tuple[tuple[float, float, float], ...] = ()
    """Rules over some of the columns only, between two row edges: height, left end, right end."""
    boxes: bool = False
    """Whether it is made of tinted boxes alone: stripes under every second row may have none between."""

    def place_of(self, x: float, y: float) -> tuple[int, int] | None:
        """Row and column of a point; cells joined over columns count as their first one."""
        if not (self.xs[0] <= x <= self.xs[-1] and self.ys[0] <= y <= self.ys[-1]):
            return None
        row = min(bisect_right(self.ys, y) - 1, len(self.ys) - 2)
        column = min(bisect_right(self.xs, x) - 1, len(self.xs) - 2)
        middle = (self.ys[row] + self.ys[row + 1]) / 2
        while column > 0 and not any(a <= middle <= b for a, b in self.drawn[column]):
            column -= 1
        return row, column


def grids_of(page: PageLayout) -> list[Grid]:
    """The grids on the page: at least two columns and two rows, with rules both ways."""
    near_x, near_y = _NEAR_PT / page.width_pt, _NEAR_PT / page.height_pt
    level, upright = _lines(page, near_x, near_y)
    if len(level) > _MOST_LINES or len(upright) > _MOST_LINES:
        return []
    level, upright = _merged(level, near_y, near_x), _merged(upright, near_x, near_y)
    found = []
    for rows, columns in _connected(level, upright, near_x, near_y):
        grid = _grid(rows, columns, near_x, near_y)
        if grid is not None:
            found.append(grid._replace(boxes=not _rules_in(page, grid)))
    return found


def _rules_in(page: PageLayout, grid: Grid) -> bool:
    """Whether any line of a grid is drawn as a line."""
    left, right, top, bottom = grid.xs[0], grid.xs[-1], grid.ys[0], grid.ys[-1]
    return any(
        shape.kind == "rule"
        and left - 0.01 <= shape.left <= shape.right <= right + 0.01
        and top - 0.005 <= shape.top <= shape.bottom <= bottom + 0.005
        for shape in page.drawn
    )


def _lines(page: PageLayout, near_x: float, near_y: float) -> tuple[list[_Line], list[_Line]]:
    level: list[_Line] = []
    upright: list[_Line] = []
    short_x, short_y = _SHORTEST_PT / page.width_pt, _SHORTEST_PT / page.height_pt
    for shape in page.drawn:
        width, height = shape.right - shape.left, shape.bottom - shape.top
        if shape.kind == "rule":
            if height <= 1.5 * near_y and width > short_x:
                level.append(_Line((shape.top + shape.bottom) / 2, shape.left, shape.right))
            elif width <= 1.5 * near_x and height > short_y:
                upright.append(_Line((shape.left + shape.right) / 2, shape.top, shape.bottom))
        elif shape.kind == "box" and width > short_x and height > short_y:
            _add_edges(shape, level, upright)
    return level, upright


def _add_edges(shape: Drawn, level: list[_Line], upright: list[_Line]) -> None:
    level.append(_Line(shape.top, shape.left, shape.right))
    level.append(_Line(shape.bottom, shape.left, shape.right))
    upright.append(_Line(shape.left, shape.top, shape.bottom))
    upright.append(_Line(shape.right, shape.top, shape.bottom))


def _merged(lines: Iterable[_Line], near_at: float, near_end: float) -> list[_Line]:
    """Lines in one another's continuation as one line."""
    groups: list[list[_Line]] = []
    for line in sorted(lines):
        if groups and line.at - groups[-1][0].at <= near_at:
            groups[-1].append(line)
        else:
            groups.append([line])
    merged: list[_Line] = []
    for group in groups:
        at = sum(line.at for line in group) / len(group)
        spans: list[list[float]] = []
        for line in sorted(group, key=lambda item: item.low):
            if spans and line.low <= spans[-1][1] + near_end:
                spans[-1][1] = max(spans[-1][1], line.high)
            else:
                spans.append([line.low, line.high])
        merged += [_Line(at, low, high) for low, high in spans]
    return merged


def _connected(
    level: list[_Line], upright: list[_Line], near_x: float, near_y: float
) -> list[tuple[list[_Line], list[_Line]]]:
    """Lines that touch or cross one another, group by group."""
    parent = list(range(len(level) + len(upright)))

    def root(index: int) -> int:
        while parent[index] != index:
            parent[index] = parent[parent[index]]
            index = parent[index]
        return index

    for i, row in enumerate(level):
        for j, column in enumerate(upright):
            crosses = row.low - near_x <= column.at <= row.high + near_x
            if crosses and column.low - near_y <= row.at <= column.high + near_y:
                parent[root(i)] = root(len(level) + j)
    groups: dict[int, tuple[list[_Line], list[_Line]]] = {}
    for i, row in enumerate(level):
        groups.setdefault(root(i), ([], []))[0].append(row)
    for j, column in enumerate(upright):
        groups.setdefault(root(len(level) + j), ([], []))[1].append(column)
    return list(groups.values())


def _grid(rows: list[_Line], columns: list[_Line], near_x: float, near_y: float) -> Grid | None:
    if len(rows) < _LEAST_LINES or len(columns) < _LEAST_LINES:
        return None
    left, right = min(r.low for r in rows), max(r.high for r in rows)
    top, bottom = min(r.at for r in rows), max(r.at for r in rows)
    long_rows = [r for r in rows if r.high - r.low >= 0.5 * (right - left)]
    if len(long_rows) < _LEAST_LINES:
        return None
    xs = _edges([c.at for c in columns], near_x)
    ends = [_usual([c.low for c in columns]), _usual([c.high for c in columns])]
    ys = _edges([*(r.at for r in long_rows), *ends], near_y)
    covered = sum(c.high - c.low for c in columns)
    if len(xs) < _LEAST_LINES or covered < 0.4 * len(xs) * (bottom - top):
        return None
    spans = tuple(
        tuple((c.low - near_y, c.high + near_y) for c in columns if abs(c.at - x) <= 2 * near_x) for x in xs
    )
    part = tuple(
        (r.at, r.low - near_x, r.high + near_x)
        for r in rows
        if len(xs) > _LEAST_LINES and all(abs(r.at - y) > near_y for y in ys)
    )
    return Grid(xs, ys, spans, part)


def _usual(values: list[float]) -> float:
    """The middle value: where most columns begin or end, though no row line closes them there."""
    return sorted(values)[len(values) // 2]


def _edges(values: list[float], near: float) -> tuple[float, ...]:
    edges: list[float] = []
    for value in sorted(values):
        if not edges or value - edges[-1] > near:
            edges.append(value)
    return tuple(edges)
