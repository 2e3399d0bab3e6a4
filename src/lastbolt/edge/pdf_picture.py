"""Pictures of boxes on a page, as PNG bytes."""

from typing import Any

from pypdfium2 import raw

from lastbolt.edge.pdf_frames import Crop
from lastbolt.edge.png import CHANNELS, Pixels, png_of

_PT_PER_INCH = 72.0


def picture_of(document: Any, crop: Crop, most_pixels: int) -> bytes:
    """The box of the page as a PNG, coarser than wanted if it would be too large; b"" on failure."""
    page = raw.FPDF_LoadPage(document, crop.pdf_page - 1)
    if not page:
        return b""
    try:
        return _drawn(page, crop, most_pixels)
    finally:
        raw.FPDF_ClosePage(page)


def _drawn(page: Any, crop: Crop, most_pixels: int) -> bytes:
    left, top, right, bottom = (min(max(edge, 0.0), 1.0) for edge in crop.box)
    if right <= left or bottom <= top:
        return b""
    width_pt, height_pt = raw.FPDF_GetPageWidthF(page), raw.FPDF_GetPageHeightF(page)
    scale = crop.dpi / _PT_PER_INCH
    wanted = width_pt * height_pt * (right - left) * (bottom - top) * scale * scale
    if wanted > most_pixels:
        scale *= (most_pixels / wanted) ** 0.5
    full_width, full_height = max(round(width_pt * scale), 1), max(round(height_pt * scale), 1)
    start_x, start_y = round(left * full_width), round(top * full_height)
    width = max(round(right * full_width) - start_x, 1)
    height = max(round(bottom * full_height) - start_y, 1)
    bitmap = raw.FPDFBitmap_CreateEx(width, height, raw.FPDFBitmap_BGR, None, 0)
    if not bitmap:
        return b""
    try:
        raw.FPDFBitmap_FillRect(bitmap, 0, 0, width, height, 0xFFFFFFFF)
        flags = raw.FPDF_ANNOT | raw.FPDF_REVERSE_BYTE_ORDER
        raw.FPDF_RenderPageBitmap(bitmap, page, -start_x, -start_y, full_width, full_height, 0, flags)
        return png_of(Pixels(width, height, _rows(bitmap, width, height)))
    finally:
        raw.FPDFBitmap_Destroy(bitmap)


def _rows(bitmap: Any, width: int, height: int) -> tuple[bytes, ...]:
    """The bitmap's rows, without what stands between them."""
    import ctypes

    stride = raw.FPDFBitmap_GetStride(bitmap)
    whole = ctypes.string_at(raw.FPDFBitmap_GetBuffer(bitmap), stride * height)
    return tuple(whole[row * stride : row * stride + width * CHANNELS] for row in range(height))
