"""PDF files into page layouts, one page at a time, out of worker processes that may die without harm."""

from collections.abc import Callable, Iterator
from pathlib import Path

from msgspec import Struct

from lastbolt.edge import pdf_faults as faults
from lastbolt.edge.pdf_damage import damage_in_words
from lastbolt.edge.pdf_frames import (
    Crop,
    Done,
    Failed,
    Limits,
    Opened,
    PageFailed,
    PageRead,
    Picture,
    Request,
    Share,
)
from lastbolt.edge.pdf_process import Gone, Worker, cores
from lastbolt.edge.scanned_pages import ScannedPages, is_picture
from lastbolt.words.citation import Box
from lastbolt.words.page import PageLayout
from lastbolt.words.problem import Problem, Refusal

Progress = Callable[[int, int], None]
"""Called with pages done and pages in all."""

_BYTES_FOR_TWO = 32_768
"""So large a file may have pages enough for two workers: both are started before it is known."""
_PAGES_FOR_ONE = 12
"""A worker has at least so many pages to read."""
_MOST_DEATHS = 20
_MOST_DAMAGED = 200
"""So many damaged pages in a row, and the rest are given up: a file of three pages may claim a million."""


class PdfSettings(Struct, frozen=True):
    """How a PDF is read. `workers` 0: two where there are two cores and enough pages, else one.

    `source` is the id that citations in problems carry. `scans`: read pages that are pictures, where the
    reader of letters is installed. `kept`: where such pages are kept, if not in the user's own cache.
    """

    source: str = ""
    limits: Limits = Limits()
    workers: int = 0
    scans: bool = True
    kept: Path | None = None


def read_pages(
    path: Path, settings: PdfSettings | None = None, progress: Progress | None = None
) -> Iterator[PageLayout | Problem]:
    """The file's pages in order as they come, and what went wrong between and after them.

    Raises:
        Refusal: nothing at all can be read; its problem says why.
    """
    reading = _Reading(path, settings or PdfSettings())
    try:
        count = reading.open()
        for number, page in enumerate(reading.pages(count), start=1):
            yield page
            if progress is not None:
                progress(min(number, count), count)
        yield from reading.closing_problems()
    finally:
        reading.close()


def page_count(path: Path, settings: PdfSettings | None = None) -> int:
    """How many pages the file has.

    Raises:
        Refusal: the file cannot be opened.
    """
    reading = _Reading(path, settings or PdfSettings())
    try:
        return reading.open()
    finally:
        reading.close()


def render_crops(path: Path, crops: tuple[Crop, ...], limits: Limits | None = None) -> tuple[bytes, ...]:
    """A PNG for each crop, b"" where the page cannot be drawn.

    Raises:
        Refusal: the file cannot be opened.
    """
    check_file(path)
    pictures = [b""] * len(crops)
    start = 0
    while start < len(crops):
        worker = Worker(Request(str(path), limits or Limits(), crops[start:]))
        try:
            _opened(path, worker)
            done = _collect(worker, pictures, start)
        finally:
            worker.close()
        start = done + 1  # a crop that ended the worker stays empty
    return tuple(pictures)


def render_crop(path: Path, pdf_page: int, box: Box, dpi: float = 150.0) -> bytes:
    """A PNG of the box of the page, b"" when the page cannot be drawn.

    Raises:
        Refusal: the file cannot be opened.
    """
    return render_crops(path, (Crop(pdf_page, box, dpi),))[0]


def _collect(worker: Worker, pictures: list[bytes], start: int) -> int:
    """Fill in the worker's pictures; the number of the crop it ended at."""
    at = start
    while isinstance(frame := worker.next(), Picture):
        pictures[start + frame.index] = frame.png
        at = start + frame.index + 1
    return at


def check_file(path: Path) -> None:
    """Refuse what is no readable file with something in it.

    Raises:
        Refusal: missing, a folder, not readable, or empty.
    """
    try:
        if not path.exists():
            raise faults.missing(path)
        if not path.is_file():
            raise faults.not_a_file(path)
        with path.open("rb") as stream:
            if not stream.read(1):
                raise faults.empty(path)
    except OSError as error:
        raise faults.not_readable(path, error.strerror or str(error)) from error


def _opened(path: Path, worker: Worker) -> int:
    frame = worker.opened()
    if isinstance(frame, Opened):
        return frame.pages
    if isinstance(frame, Gone):
        raise faults.cannot_open(path, frame.why)
    reason = frame.reason if isinstance(frame, Failed) else "unreadable"
    if reason == "password":
        raise faults.locked(path)
    if reason == "not a PDF":
        raise faults.not_a_pdf(path)
    raise faults.damaged(path)


class _Reading:
    """One reading of one file: its workers, and what is to be said at the end."""

    def __init__(self, path: Path, settings: PdfSettings) -> None:
        self.path = path
        self.settings = settings
        self.workers: list[Worker] = []
        self.lost: dict[int, str] = {}
        self.deaths = 0
        self.damaged_in_a_row = 0
        self.given_up = False
        self.scans = ScannedPages(path, settings.source, settings.kept, wanted=settings.scans)
        self.unmapped: dict[int, int] = {}

    def open(self) -> int:
        check_file(self.path)
        two = self.path.stat().st_size >= _BYTES_FOR_TWO and cores() >= 2
        for _ in range(self.settings.workers or 1 + two):
            self.workers.append(Worker(Request(str(self.path), self.settings.limits)))
        count = _opened(self.path, self.workers[0])
        most = self.settings.workers or max(1, count // _PAGES_FOR_ONE)
        while len(self.workers) > min(most, count):
            self.workers.pop().close()
        for number, worker in enumerate(self.workers, start=1):
            worker.share(Share(number, len(self.workers)))
        for worker in self.workers[1:]:
            _opened(self.path, worker)
        return count

    def pages(self, count: int) -> Iterator[PageLayout | Problem]:
        """All pages in order, those that are pictures read by their letters."""
        for number in range(1, count + 1):
            page = self.page(number)
            scanned = isinstance(page, PageLayout) and is_picture(page)
            yield from self.scans.put(number, page, scanned=scanned)
            if self.given_up:
                yield from self.scans.rest()
                rest = range(number + 1, count + 1)
                if rest:
                    yield faults.too_many_lost(self.path, self.settings.source, rest)
                return
        yield from self.scans.rest()

    def page(self, number: int) -> PageLayout | Problem:
        """The page, or why it could not be read."""
        turn = (number - 1) % len(self.workers)
        frame = self.workers[turn].next()
        if isinstance(frame, PageRead) and frame.layout.pdf_page == number:
            self._note(frame)
            self.damaged_in_a_row = 0
            return frame.layout
        if isinstance(frame, PageFailed) and frame.pdf_page == number:
            self.lost[number] = "it is damaged"
            self.damaged_in_a_row += 1
            self.given_up = self.given_up or self.damaged_in_a_row >= _MOST_DAMAGED
            return self._lost(number)
        why = frame.why if isinstance(frame, Gone) else "crashed"
        self.lost[number] = "it took too long" if why == "timed out" else "it ended the reader"
        self._restart(turn, number)
        return self._lost(number)

    def _lost(self, number: int) -> Problem:
        return faults.page_lost(self.path, self.settings.source, number, self.lost[number])

    def _restart(self, turn: int, number: int) -> None:
        """Begin again behind the page that ended the worker, unless that happened too often."""
        self.workers[turn].close()
        self.deaths += 1
        if self.deaths > _MOST_DEATHS:
            self.given_up = True
            return
        worker = Worker(Request(str(self.path), self.settings.limits))
        step = len(self.workers)
        self.workers[turn] = worker
        worker.share(Share(number + step, step))
        try:
            _opened(self.path, worker)
        except Refusal:
            self.given_up = True

    def _note(self, frame: PageRead) -> None:
        if frame.unmapped:
            self.unmapped[frame.layout.pdf_page] = frame.unmapped

    def closing_problems(self) -> Iterator[Problem]:
        """What is to be said of the file as a whole, once its pages are read."""
        if not self.given_up:
            frames = [worker.last() for worker in self.workers]
            damage = damage_in_words([frame.damage for frame in frames if isinstance(frame, Done)])
            if damage:
                yield faults.partly_damaged(self.path, damage)
        yield from self.scans.problems()
        if self.unmapped:
            yield faults.unmapped(self.path, self.settings.source, self.unmapped)

    def close(self) -> None:
        self.scans.close()
        for worker in self.workers:
            worker.close()
