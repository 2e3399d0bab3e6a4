"""A whole page as grey values, for the reader of scans."""

import ctypes
from typing import Any

from pypdfium2 import raw

_PT_PER_INCH = 72.0


def grey_of(document: Any, pdf_page: int, dpi: float, most_pixels: int) -> tuple[bytes, int, int] | None:
    """The whole page in 8-bit grey without its notes: rows, width and height in pixels; None on failure."""
    page = raw.FPDF_LoadPage(document, pdf_page - 1)
    if not page:
        return None
    try:
        wide, high = raw.FPDF_GetPageWidthF(page), raw.FPDF_GetPageHeightF(page)
        scale = dpi / _PT_PER_INCH
        scale *= min(1.0, (most_pixels / max(1.0, wide * high * scale * scale)) ** 0.5)
        width, height = max(round(wide * scale), 1), max(round(high * scale), 1)
        bitmap = raw.FPDFBitmap_CreateEx(width, height, raw.FPDFBitmap_Gray, None, 0)
        if not bitmap:
            return None
        try:
            raw.FPDFBitmap_FillRect(bitmap, 0, 0, width, height, 0xFFFFFFFF)
            raw.FPDF_RenderPageBitmap(bitmap, page, 0, 0, width, height, 0, 0)
            stride = raw.FPDFBitmap_GetStride(bitmap)
            whole = ctypes.string_at(raw.FPDFBitmap_GetBuffer(bitmap), stride * height)
        finally:
            raw.FPDFBitmap_Destroy(bitmap)
        return b"".join(whole[row * stride : row * stride + width] for row in range(height)), width, height
    finally:
        raw.FPDF_ClosePage(page)
