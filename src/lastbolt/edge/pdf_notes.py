"""What was put on a page after it was made: typed notes, stickers, filled form fields, words struck out.

Annotations: ISO 32000-1, 12.5; form fields: 12.7.
"""

import ctypes
from typing import Any

from pypdfium2 import raw

from lastbolt.edge.pdfium import PageFrame
from lastbolt.edge.plain_text import plain
from lastbolt.words.citation import Box
from lastbolt.words.page import Aside

_MOST_NOTES = 500
_LONGEST = 2_000
_NOT_SEEN = raw.FPDF_ANNOT_FLAG_HIDDEN | raw.FPDF_ANNOT_FLAG_NOVIEW
_SILENT = frozenset((raw.FPDF_ANNOT_LINK, raw.FPDF_ANNOT_POPUP))
_WORDED = (raw.FPDF_FORMFIELD_TEXTFIELD, raw.FPDF_FORMFIELD_COMBOBOX, raw.FPDF_FORMFIELD_LISTBOX)
_STRUCK = raw.FPDF_ANNOT_STRIKEOUT


def read_notes(document: Any, page: Any, frame: PageFrame) -> tuple[Aside, ...]:
    """Every visible annotation that says something, and every form field that is filled in."""
    count = min(raw.FPDFPage_GetAnnotCount(page), _MOST_NOTES)
    found: list[Aside] = []
    if count <= 0:
        return ()
    with _Form(document) as form:
        for index in range(count):
            annotation = raw.FPDFPage_GetAnnot(page, index)
            if not annotation:
                continue
            try:
                aside = _read(form, page, annotation, frame)
            finally:
                raw.FPDFPage_CloseAnnot(annotation)
            if aside is not None:
                found.append(aside)
    return tuple(found)


def _read(form: "_Form", page: Any, annotation: Any, frame: PageFrame) -> Aside | None:
    sort = raw.FPDFAnnot_GetSubtype(annotation)
    if sort in _SILENT or raw.FPDFAnnot_GetFlags(annotation) & _NOT_SEEN:
        return None
    box = _box(annotation, frame)
    if box is None:
        return None
    if sort == raw.FPDF_ANNOT_WIDGET:
        said = _value(annotation, "V") or form.inherited(annotation)
        return Aside("field", said, box) if said else None
    said = _value(annotation, "Contents")
    if sort == _STRUCK:
        return Aside("struck out", _words_at(page, annotation) or said, box)
    return Aside("added", said, box) if said else None


def _box(annotation: Any, frame: PageFrame) -> Box | None:
    rect = raw.FS_RECTF()
    if not raw.FPDFAnnot_GetRect(annotation, rect):
        return None
    x1, y1, x2, y2 = frame.box(rect.left, rect.bottom, rect.right, rect.top)
    if x2 <= 0.0 or y2 <= 0.0 or x1 >= 1.0 or y1 >= 1.0:
        return None  # outside the page as displayed
    return max(x1, 0.0), max(y1, 0.0), min(x2, 1.0), min(y2, 1.0)


def _tidy(units: bytes) -> str:
    return plain(" ".join(units.decode("utf-16-le", "replace").split()))[:_LONGEST]


def _value(annotation: Any, key: str) -> str:
    length = raw.FPDFAnnot_GetStringValue(annotation, key.encode(), None, 0)
    if length <= 2:
        return ""
    units = (raw.FPDF_WCHAR * (length // 2 + 1))()
    raw.FPDFAnnot_GetStringValue(annotation, key.encode(), units, length)
    return _tidy(bytes(units)[: length - 2])


class _Form:
    """The document's form, opened when a field leaves its value to its parent; none of its scripts run."""

    def __init__(self, document: Any) -> None:
        self.document = document
        self.about = raw.FPDF_FORMFILLINFO(version=2)
        self.handle: Any = None

    def __enter__(self) -> "_Form":
        return self

    def __exit__(self, *_: object) -> None:
        if self.handle:
            raw.FPDFDOC_ExitFormFillEnvironment(self.handle)

    def inherited(self, annotation: Any) -> str:
        """The value of a field whose widget leaves it to its parent."""
        if not raw.FPDFAnnot_HasKey(annotation, b"Parent") or raw.FPDFAnnot_HasKey(annotation, b"V"):
            return ""
        if self.handle is None:
            self.handle = raw.FPDFDOC_InitFormFillEnvironment(self.document, self.about) or False
        if not self.handle or raw.FPDFAnnot_GetFormFieldType(self.handle, annotation) not in _WORDED:
            return ""
        length = raw.FPDFAnnot_GetFormFieldValue(self.handle, annotation, None, 0)
        if length <= 2:
            return ""
        units = (raw.FPDF_WCHAR * (length // 2 + 1))()
        raw.FPDFAnnot_GetFormFieldValue(self.handle, annotation, units, length)
        return _tidy(bytes(units)[: length - 2])


def _words_at(page: Any, annotation: Any) -> str:
    """The printed words that an annotation lies over."""
    text_page = raw.FPDFText_LoadPage(page)
    if not text_page:
        return ""
    try:
        parts = []
        for number in range(min(raw.FPDFAnnot_CountAttachmentPoints(annotation), 50)):
            quad = raw.FS_QUADPOINTSF()
            if not raw.FPDFAnnot_GetAttachmentPoints(annotation, number, quad):
                continue
            xs = (quad.x1, quad.x2, quad.x3, quad.x4)
            ys = (quad.y1, quad.y2, quad.y3, quad.y4)
            edges = (min(xs), max(ys), max(xs), min(ys))
            length = raw.FPDFText_GetBoundedText(text_page, *edges, None, 0)
            units = (ctypes.c_ushort * (length + 1))()
            raw.FPDFText_GetBoundedText(text_page, *edges, units, length)
            parts.append(_tidy(bytes(units)[: 2 * length]))
        return " ".join(part.strip("\x00 ") for part in parts if part)
    finally:
        raw.FPDFText_ClosePage(text_page)
