"""The pages of a file in order while those that are pictures are still being read."""

from collections import deque
from collections.abc import Iterator
from pathlib import Path

from msgspec.structs import replace

from lastbolt.edge import pdf_faults as faults
from lastbolt.edge.pdf_frames import ScanRead
from lastbolt.edge.pdf_process import cores
from lastbolt.edge.scan_in import ScanReader, can_read_scans
from lastbolt.words.page import PageLayout
from lastbolt.words.problem import Problem

_PICTURE_PART = 0.3
"""A page without words is a scan when images cover at least this part of it."""
_MOST_HELD = 24
"""Pages held back behind one that is still being read, at most, so that memory stays bounded."""
_MOST_READERS = 2


def is_picture(layout: PageLayout) -> bool:
    """Whether the page is a picture without text."""
    areas = ((d.right - d.left) * (d.bottom - d.top) for d in layout.drawn if d.kind == "image")
    return not layout.words and min(sum(areas), 1.0) >= _PICTURE_PART


class ScannedPages:
    """Takes the pages of one file as they come and gives them back in order, the pictures read."""

    def __init__(self, path: Path, source: str, kept: Path | None, *, wanted: bool) -> None:
        self.path = path
        self.source = source
        self.kept = kept
        self.wanted = wanted
        self._reader: ScanReader | None = None
        self._held: deque[PageLayout | Problem | None] = deque()
        """None: a page that the reader was asked for."""
        self._pictures: dict[int, PageLayout] = {}
        self._read: list[int] = []
        self._not_read: list[int] = []
        self._given_up: list[int] = []
        self._no_letters: list[int] = []
        self._unsure: dict[int, list[str]] = {}

    def put(
        self, number: int, page: PageLayout | Problem, *, scanned: bool
    ) -> Iterator[PageLayout | Problem]:
        """Take the next page; the pages that are ready by now."""
        if scanned and isinstance(page, PageLayout):
            reader = self._ready()
            if reader is None:
                self._not_read.append(number)
            else:
                self._pictures[number] = page
                reader.ask(number)
        self._held.append(None if number in self._pictures else page)
        while self._held and (self._held[0] is not None or self._must_wait()):
            yield self._first()

    def rest(self) -> Iterator[PageLayout | Problem]:
        """All pages that are still held, once they are read."""
        while self._held:
            yield self._first()

    def problems(self) -> Iterator[Problem]:
        """What is to be said of pages that are pictures."""
        if self._not_read:
            yield faults.pictures_only(self.path, self.source, self._not_read)
        if self._given_up:
            yield faults.scan_given_up(self.path, self.source, self._given_up)
        if self._no_letters:
            yield faults.no_letters(self.path, self.source, self._no_letters)
        if self._read:
            yield faults.read_by_letters(self.path, self.source, self._read)
        for number, words in self._unsure.items():
            yield faults.unsure_numbers(self.path, self.source, number, words)

    def close(self) -> None:
        """End the readers."""
        if self._reader is not None:
            self._reader.close()

    def _ready(self) -> ScanReader | None:
        if self._reader is None and self.wanted and can_read_scans():
            self._reader = ScanReader(self.path, min(cores(), _MOST_READERS), self.kept)
        return self._reader

    def _must_wait(self) -> bool:
        reader = self._reader
        return reader is not None and (reader.waiting > reader.most_waiting or len(self._held) > _MOST_HELD)

    def _first(self) -> PageLayout | Problem:
        page = self._held.popleft()
        if page is not None:
            return page
        assert self._reader is not None
        number, read = self._reader.next()
        picture = self._pictures.pop(number)
        if read is None:
            self._given_up.append(number)
            return picture
        return self._noted(number, picture, read)

    def _noted(self, number: int, picture: PageLayout, read: ScanRead) -> PageLayout:
        if not read.layout.words:
            self._no_letters.append(number)
            return picture
        self._read.append(number)
        words = [read.layout.words[place].text for place in read.unsure]
        figures = [word for word in words if any(letter.isdigit() for letter in word)]
        if figures:
            self._unsure[number] = figures
        return replace(read.layout, label=picture.label, scanned=True)
