"""What is drawn on a page: rules, boxes, curves and images, each with its box as displayed."""

import ctypes
from typing import Any

from pypdfium2 import raw

from lastbolt.edge import pdfium
from lastbolt.edge.pdfium import Floats, Handle, PageFrame
from lastbolt.words.page import Drawn

Matrix = tuple[float, float, float, float, float, float]

MOST_DRAWN = 20_000
"""A page with more objects than this is a picture in all but name; the rest is not listed."""
_DEEPEST_FORM = 4
_MOST_SEGMENTS = 2_000
_THIN_PT = 3.0
_STRAIGHT = 0.35
"""How far, in points, a line may lean and still count as a rule."""


class _Pen:
    """Collects the drawn objects of one page, with the scratch memory to ask for them."""

    def __init__(self, frame: PageFrame) -> None:
        self.frame = frame
        self.drawn: list[Drawn] = []
        self.box = Floats(4)
        self.point = Floats(2)
        self.matrix = Floats(6)
        self.fill = ctypes.c_int()
        self.stroke = ctypes.c_int()

    def full(self) -> bool:
        return len(self.drawn) >= MOST_DRAWN

    def add_object(self, pointer: int, matrix: Matrix | None, depth: int) -> None:
        item = Handle(pointer)
        kind = pdfium.object_type(item)
        if kind == raw.FPDF_PAGEOBJ_PATH:
            self._add_path(item, matrix)
        elif kind in (raw.FPDF_PAGEOBJ_IMAGE, raw.FPDF_PAGEOBJ_SHADING):
            bounds = self._bounds(item)
            if bounds is not None:
                self._add("image", _moved(bounds, matrix))
        elif kind == raw.FPDF_PAGEOBJ_FORM and depth < _DEEPEST_FORM:
            self._add_form(item, matrix, depth)

    def _add_form(self, form: Handle, outer: Matrix | None, depth: int) -> None:
        pdfium.object_matrix(form, self.matrix.all)
        inner: Matrix = tuple(self.matrix.values[:])
        matrix = inner if outer is None else _times(inner, outer)
        for index in range(max(pdfium.form_count(form), 0)):
            pointer = pdfium.form_object(form, ctypes.c_ulong(index))
            if pointer:
                self.add_object(pointer, matrix, depth + 1)
            if self.full():
                return

    def _bounds(self, item: Handle) -> tuple[float, float, float, float] | None:
        if not pdfium.object_bounds(item, *self.box.each):
            return None
        left, bottom, right, top = self.box.values[:]
        return left, bottom, right, top

    def _add_path(self, path: Handle, matrix: Matrix | None) -> None:
        pdfium.draw_mode(path, ctypes.byref(self.fill), ctypes.byref(self.stroke))
        if not self.fill.value and not self.stroke.value:
            return  # a clip path: nothing to see
        bounds = self._bounds(path)
        if bounds is None:
            return
        bounds = _moved(bounds, matrix)
        left, bottom, right, top = bounds
        count = pdfium.count_segments(path)
        if count > 5 and count <= _MOST_SEGMENTS:
            lines = self._straight_lines(path, count)
            if lines is not None:
                self._add_lines(path, lines, matrix)
                return
        if min(right - left, top - bottom) <= _THIN_PT and (count <= 5):
            self._add("rule", bounds)
        elif count in (4, 5) and self._straight_lines(path, count) is not None:
            self._add("box", bounds)
        else:
            self._add("curve", bounds)

    def _straight_lines(self, path: Handle, count: int) -> list[tuple[float, float, float, float]] | None:
        """The path's lines as (x1, y1, x2, y2) when each runs along x or y; None when one does not."""
        lines = []
        x = y = start_x = start_y = 0.0
        for index in range(count):
            segment = Handle(pdfium.path_segment(path, index))
            kind = pdfium.segment_type(segment)
            if kind == raw.FPDF_SEGMENT_BEZIERTO:
                return None
            pdfium.segment_point(segment, *self.point.each)
            new_x, new_y = self.point.values[:]
            if kind == raw.FPDF_SEGMENT_MOVETO:
                start_x, start_y = new_x, new_y
            elif abs(new_x - x) > _STRAIGHT and abs(new_y - y) > _STRAIGHT:
                return None
            else:
                lines.append((x, y, new_x, new_y))
            x, y = new_x, new_y
            if pdfium.segment_closes(segment) and (x, y) != (start_x, start_y):
                lines.append((x, y, start_x, start_y))
        return lines

    def _add_lines(
        self, path: Handle, lines: list[tuple[float, float, float, float]], matrix: Matrix | None
    ) -> None:
        """Add a path of many straight lines (a whole grid drawn at once) line by line."""
        pdfium.object_matrix(path, self.matrix.all)
        own: Matrix = tuple(self.matrix.values[:])
        whole = own if matrix is None else _times(own, matrix)
        for x1, y1, x2, y2 in lines:
            flat = (min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))
            self._add("rule", _moved(flat, whole))

    def _add(self, kind: Any, bounds: tuple[float, float, float, float]) -> None:
        left, bottom, right, top = bounds
        x1, y1, x2, y2 = self.frame.box(left, bottom, right, top)
        if x2 < 0.0 or y2 < 0.0 or x1 > 1.0 or y1 > 1.0:
            return
        self.drawn.append(Drawn(kind, max(x1, 0.0), max(y1, 0.0), min(x2, 1.0), min(y2, 1.0)))


def read_drawn(page: Any, frame: PageFrame) -> list[Drawn]:
    """Everything drawn on the page but its text, in the order of the file."""
    pen = _Pen(frame)
    handle = pdfium.handle_of(page)
    for index in range(max(pdfium.count_objects(handle), 0)):
        pointer = pdfium.get_object(handle, index)
        if pointer:
            pen.add_object(pointer, None, 0)
        if pen.full():
            break
    return pen.drawn


def _moved(
    bounds: tuple[float, float, float, float], matrix: Matrix | None
) -> tuple[float, float, float, float]:
    if matrix is None:
        return bounds
    left, bottom, right, top = bounds
    a, b, c, d, e, f = matrix
    xs = [a * x + c * y + e for x in (left, right) for y in (bottom, top)]
    ys = [b * x + d * y + f for x in (left, right) for y in (bottom, top)]
    return min(xs), min(ys), max(xs), max(ys)


def _times(inner: Matrix, outer: Matrix) -> Matrix:
    """The matrix that applies `inner` first, then `outer` (PDF 32000-1, 8.3.4)."""
    a, b, c, d, e, f = inner
    p, q, r, s, t, u = outer
    return (
        a * p + b * r,
        a * q + b * s,
        c * p + d * r,
        c * q + d * s,
        e * p + f * r + t,
        e * q + f * s + u,
    )
