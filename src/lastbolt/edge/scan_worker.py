"""The process that reads scanned pages: `python -m lastbolt.edge.scan_worker`, limited like the PDF worker.

It opens the PDF, and for every page it is asked for makes the picture, cleans it, turns it upright and reads
its letters. What it read before, of the very same picture, it finds again by the picture's mark.
"""

import hashlib
import os
from pathlib import Path
from typing import Any, BinaryIO

os.environ["OMP_THREAD_LIMIT"] = (
    "1"  # one process per core; threads of the engine only get in each other's way
)

import cv2
import numpy as np

from lastbolt.edge.pdf_frames import (
    Opened,
    PageFailed,
    Request,
    ScanRead,
    ScanWanted,
    read_message,
    write_frame,
)
from lastbolt.edge.pdf_worker import open_document, page_label, run, timed
from lastbolt.edge.pdfium import page_count, page_size
from lastbolt.edge.scan_kept import kept
from lastbolt.edge.scan_page import grey_of
from lastbolt.edge.scan_picture import drawn_on, made_fit
from lastbolt.edge.scan_words import LetterReader
from lastbolt.words.page import PageLayout

READ_DPI = 300.0
SURE = 70.0
"""Below this (of 100) a word is doubted (tried out)."""
READER = "2"
"""Goes up with every change to how pages are read: what an earlier one kept is then read again."""


def serve(request: Request, messages: BinaryIO, out: BinaryIO) -> None:
    """Open the file, say so, and answer page by page until nobody asks."""
    with timed(request.limits.open_s):
        document, failed = open_document(request.path)
    if failed is not None:
        write_frame(out, failed)
        return
    write_frame(out, Opened(page_count(document)))
    reader = LetterReader()
    while isinstance(wanted := read_message(messages), ScanWanted):
        with timed(request.limits.page_s):
            frame = _read(document, reader, wanted, request.limits.picture_pixels)
        write_frame(out, frame)


def _read(document: Any, reader: LetterReader, wanted: ScanWanted, most_pixels: int) -> ScanRead | PageFailed:
    drawn = grey_of(document, wanted.pdf_page, READ_DPI, most_pixels)
    if drawn is None:
        return PageFailed(wanted.pdf_page)
    pixels, width, height = drawn
    mark = hashlib.sha256(f"{READER} {width}x{height} ".encode() + pixels).hexdigest()
    before = kept(Path(wanted.kept), mark, wanted.pdf_page) if wanted.kept else None
    if before is not None:
        return before
    wide_pt, high_pt = page_size(document, wanted.pdf_page)
    grey = np.frombuffer(pixels, np.uint8).reshape(height, width)
    picture = made_fit(grey)
    words = reader.words(picture.letters, width / wide_pt * 72.0)
    layout = PageLayout(
        wanted.pdf_page,
        wide_pt,
        high_pt,
        tuple(found.word for found in words),
        tuple(drawn_on(picture)),
        page_label(document, wanted.pdf_page),
    )
    unsure = tuple(number for number, found in enumerate(words) if found.sure < SURE)
    return ScanRead(layout, unsure, mark)


if __name__ == "__main__":
    cv2.setNumThreads(1)
    run(serve)
