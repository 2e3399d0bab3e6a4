"""The few PDFium calls made once per word or drawn object, bound so that a call costs little.

pypdfium2's own bindings check every argument; at one call per character that check is half of the time.
Here the same functions are bound by address without argument types, and keep the interpreter lock:
callers pass `c_void_p`, plain ints and `byref` values only.
"""

import ctypes
import math
from collections.abc import Callable
from typing import Any

from pypdfium2 import raw

Handle = ctypes.c_void_p


def _bound(name: str, returns: Any = ctypes.c_int) -> Callable[..., Any]:
    address = ctypes.cast(getattr(raw, name), ctypes.c_void_p).value
    if address is None:
        raise RuntimeError(f"pdfium has no {name}")
    return ctypes.PYFUNCTYPE(returns)(address)


def handle_of(pointer: Any) -> Handle:
    """The address behind one of pypdfium2's typed pointers, ready for the calls of this module."""
    return Handle(ctypes.cast(pointer, ctypes.c_void_p).value)


count_chars = _bound("FPDFText_CountChars")
get_text = _bound("FPDFText_GetText")
get_unicode = _bound("FPDFText_GetUnicode", ctypes.c_uint)
count_rects = _bound("FPDFText_CountRects")
get_rect = _bound("FPDFText_GetRect")
char_box = _bound("FPDFText_GetCharBox")
char_origin = _bound("FPDFText_GetCharOrigin")
loose_box = _bound("FPDFText_GetLooseCharBox")
char_matrix = _bound("FPDFText_GetMatrix")
text_object = _bound("FPDFText_GetTextObject", ctypes.c_void_p)
has_map_error = _bound("FPDFText_HasUnicodeMapError")
font_size = _bound("FPDFText_GetFontSize", ctypes.c_double)

render_mode = _bound("FPDFTextObj_GetTextRenderMode")
font_of = _bound("FPDFTextObj_GetFont", ctypes.c_void_p)
font_name = _bound("FPDFFont_GetBaseFontName", ctypes.c_size_t)
font_flags = _bound("FPDFFont_GetFlags")
italic_angle = _bound("FPDFFont_GetItalicAngle")

count_objects = _bound("FPDFPage_CountObjects")
get_object = _bound("FPDFPage_GetObject", ctypes.c_void_p)
form_count = _bound("FPDFFormObj_CountObjects")
form_object = _bound("FPDFFormObj_GetObject", ctypes.c_void_p)
object_type = _bound("FPDFPageObj_GetType")
object_bounds = _bound("FPDFPageObj_GetBounds")
object_matrix = _bound("FPDFPageObj_GetMatrix")
count_segments = _bound("FPDFPath_CountSegments")
path_segment = _bound("FPDFPath_GetPathSegment", ctypes.c_void_p)
segment_point = _bound("FPDFPathSegment_GetPoint")
segment_type = _bound("FPDFPathSegment_GetType")
segment_closes = _bound("FPDFPathSegment_GetClose")
draw_mode = _bound("FPDFPath_GetDrawMode")


class Floats:
    """A small C array of floats with prepared references to it and its items."""

    def __init__(self, count: int, *, double: bool = False) -> None:
        kind: Any = ctypes.c_double if double else ctypes.c_float
        self.values = (kind * count)()
        self.all = ctypes.byref(self.values)
        step = ctypes.sizeof(kind)
        self.each = tuple(ctypes.byref(self.values, step * index) for index in range(count))


class PageFrame:
    """How a page's own coordinates map to fractions of the page as displayed (Rotate and CropBox applied)."""

    def __init__(self, page: Any) -> None:
        self.width_pt = float(raw.FPDF_GetPageWidthF(page))
        self.height_pt = float(raw.FPDF_GetPageHeightF(page))
        grain = 10_000_000
        origin, right, up = (
            _device_point(page, grain, x, y) for x, y in ((0.0, 0.0), (1000.0, 0.0), (0.0, 1000.0))
        )
        self.e, self.f = origin[0] / grain, origin[1] / grain
        self.a, self.b = ((right[i] - origin[i]) / grain / 1000.0 for i in (0, 1))
        self.c, self.d = ((up[i] - origin[i]) / grain / 1000.0 for i in (0, 1))
        self.upright = abs(self.b) < 1e-9 and abs(self.c) < 1e-9

    def turn(self, a: float, b: float) -> int:
        """By how many degrees clockwise text is turned, as displayed, whose matrix begins with a and b."""
        if self.upright and self.a > 0 and abs(b) < 0.08 * a:
            return 0
        x = (self.a * a + self.c * b) * self.width_pt
        y = (self.b * a + self.d * b) * self.height_pt
        degrees = 5 * round(math.degrees(math.atan2(y, x)) / 5) % 360
        return 0 if degrees in (5, 355) else degrees

    def box(self, left: float, bottom: float, right: float, top: float) -> tuple[float, float, float, float]:
        """The rectangle as left, top, right, bottom in fractions of the displayed page."""
        if self.upright:
            x1, x2 = self.e + self.a * left, self.e + self.a * right
            y1, y2 = self.f + self.d * top, self.f + self.d * bottom
        else:
            x1 = self.e + self.a * left + self.c * top
            x2 = self.e + self.a * right + self.c * bottom
            y1 = self.f + self.b * left + self.d * top
            y2 = self.f + self.b * right + self.d * bottom
        return (
            x1 if x1 < x2 else x2,
            y1 if y1 < y2 else y2,
            x2 if x1 < x2 else x1,
            y2 if y1 < y2 else y1,
        )


def _device_point(page: Any, grain: int, x: float, y: float) -> tuple[int, int]:
    device_x, device_y = ctypes.c_int(), ctypes.c_int()
    raw.FPDF_PageToDevice(page, 0, 0, grain, grain, 0, x, y, device_x, device_y)
    return device_x.value, device_y.value


def page_count(document: Any) -> int:
    """How many pages the document has."""
    return int(raw.FPDF_GetPageCount(document))


def page_size(document: Any, pdf_page: int) -> tuple[float, float]:
    """Width and height of a page as displayed, in points (1/72 inch)."""
    page = raw.FPDF_LoadPage(document, pdf_page - 1)
    try:
        return float(raw.FPDF_GetPageWidthF(page)), float(raw.FPDF_GetPageHeightF(page))
    finally:
        raw.FPDF_ClosePage(page)
