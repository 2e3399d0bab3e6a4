"""The process that opens a PDF: `python -m lastbolt.edge.pdf_worker`, messages on stdin, frames on stdout.

The file may be hostile or broken. So this process has a memory limit, a time limit per page that works inside
C code too, no core dumps, and nothing to lose: when it dies, its parent names the page and starts another.
"""

import contextlib
import ctypes
import gc
import os
import signal
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, BinaryIO

from pypdfium2 import raw

from lastbolt.edge.pdf_damage import damage_of
from lastbolt.edge.pdf_drawn import read_drawn
from lastbolt.edge.pdf_frames import (
    Done,
    Failed,
    Opened,
    PageFailed,
    PageRead,
    Picture,
    Request,
    Share,
    read_message,
    write_frame,
)
from lastbolt.edge.pdf_notes import read_notes
from lastbolt.edge.pdf_picture import picture_of
from lastbolt.edge.pdf_words import read_words
from lastbolt.edge.pdfium import PageFrame
from lastbolt.edge.process_limits import limit_memory
from lastbolt.words.page import PageLayout

_REASONS: dict[int, Any] = {
    raw.FPDF_ERR_PASSWORD: "password",
    raw.FPDF_ERR_SECURITY: "password",
    raw.FPDF_ERR_FORMAT: "damaged",
    raw.FPDF_ERR_FILE: "unreadable",
}


def serve(request: Request, messages: BinaryIO, out: BinaryIO) -> None:
    """Open the file, say so, and send what is asked for as frames."""
    with timed(request.limits.open_s):
        document, failed = open_document(request.path)
    if failed is not None:
        write_frame(out, failed)
        return
    count = raw.FPDF_GetPageCount(document)
    write_frame(out, Opened(count))
    gc.freeze()
    if request.crops:
        _send_pictures(document, request, out)
        write_frame(out, Done())
        return
    share = read_message(messages)
    if isinstance(share, Share):
        for number in range(share.first, count + 1, share.step):
            with timed(request.limits.page_s):
                frame = read_page(document, number)
            write_frame(out, frame)
        with timed(request.limits.open_s):
            damage = damage_of(Path(request.path), (share.first - 1) % share.step, share.step)
        write_frame(out, Done(damage))


def open_document(path: str) -> tuple[Any, Failed | None]:
    """The document, or why it cannot be opened."""
    raw.FPDF_InitLibrary()
    document = raw.FPDF_LoadDocument(os.fsencode(path), None)
    if not document:
        reason = _REASONS.get(raw.FPDF_GetLastError(), "unreadable")
        return None, Failed(reason if _has_header(path) else "not a PDF")
    if raw.FPDF_GetPageCount(document) <= 0:
        return None, Failed("no pages")
    return document, None


def read_page(document: Any, pdf_page: int) -> PageRead | PageFailed:
    """One page of an open document: its words, what is drawn on it, and its label."""
    page = raw.FPDF_LoadPage(document, pdf_page - 1)
    if not page:
        return PageFailed(pdf_page)
    try:
        frame = PageFrame(page)
        if frame.width_pt <= 0 or frame.height_pt <= 0:
            return PageFailed(pdf_page)
        found = read_words(page, frame)
        layout = PageLayout(
            pdf_page,
            frame.width_pt,
            frame.height_pt,
            tuple(found.words),
            tuple(read_drawn(page, frame)),
            page_label(document, pdf_page),
            turned=found.turned,
            notes=read_notes(document, page, frame),
        )
        return PageRead(layout, found.unmapped)
    finally:
        raw.FPDF_ClosePage(page)


def page_label(document: Any, pdf_page: int) -> str | None:
    """The label that the file itself gives the page, if any."""
    length = raw.FPDF_GetPageLabel(document, pdf_page - 1, None, 0)
    if length <= 2:
        return None
    buffer = ctypes.create_string_buffer(length)
    raw.FPDF_GetPageLabel(document, pdf_page - 1, buffer, length)
    return buffer.raw[: length - 2].decode("utf-16-le", "replace") or None


def _send_pictures(document: Any, request: Request, out: BinaryIO) -> None:
    for index, crop in enumerate(request.crops):
        with timed(request.limits.page_s):
            png = picture_of(document, crop, request.limits.picture_pixels)
        write_frame(out, Picture(index, png))


def _has_header(path: str) -> bool:
    with Path(path).open("rb") as stream:
        return b"%PDF-" in stream.read(1024)


@contextlib.contextmanager
def timed(seconds: float) -> Iterator[None]:
    """Let the system end this process when the block takes longer: no handler, so C code is ended too."""
    if not hasattr(signal, "setitimer"):
        yield
        return
    signal.setitimer(signal.ITIMER_REAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0.0)


def run(serve: Callable[[Request, BinaryIO, BinaryIO], None]) -> None:
    """Read the request, set the limits, serve, and leave without tidying up."""
    messages = sys.stdin.buffer
    request = read_message(messages)
    if not isinstance(request, Request):
        return
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # whatever PDFium prints must not fall between the frames
    limit_memory(request.limits.memory_MB)
    try:
        serve(request, messages, out)
    except (MemoryError, BrokenPipeError):
        os._exit(3)
    os._exit(0)


if __name__ == "__main__":
    run(serve)
