"""Scanned pages of a PDF read by letter recognition, in the order of the file, on all cores."""

import importlib.util
import queue
from collections import deque
from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path

from lastbolt.edge import scan_kept
from lastbolt.edge.pdf_frames import Limits, Opened, Request, ScanRead, ScanWanted
from lastbolt.edge.pdf_process import SCANS, Worker

LIMITS = Limits(memory_MB=3072, page_s=90.0, open_s=60.0, picture_pixels=20_000_000)
_AHEAD = 3
"""Pages asked for beyond one for each reader, so that none of them waits."""


def can_read_scans() -> bool:
    """Whether the letter reader is installed (the extra "scan")."""
    return all(importlib.util.find_spec(name) is not None for name in ("tesserocr", "cv2"))


class ScanReader:
    """Reads single pages of one file in worker processes; close it at the end."""

    def __init__(self, path: Path, readers: int, kept: Path | None = None) -> None:
        self.path = path
        self.kept = scan_kept.folder() if kept is None else kept
        self._threads = ThreadPoolExecutor(readers)
        self._workers: queue.SimpleQueue[Worker] = queue.SimpleQueue()
        self._waiting: deque[tuple[int, Future[ScanRead | None]]] = deque()
        self.most_waiting = readers + _AHEAD

    def ask(self, pdf_page: int) -> None:
        """Ask for a page; it comes from `ready` or `rest` in the order of asking."""
        self._waiting.append((pdf_page, self._threads.submit(self._read, pdf_page)))

    @property
    def waiting(self) -> int:
        """How many pages were asked for and not handed out."""
        return len(self._waiting)

    def next(self) -> tuple[int, ScanRead | None]:
        """The oldest page asked for; None for one that could not be read."""
        pdf_page, page = self._waiting.popleft()
        return pdf_page, page.result()

    def rest(self) -> Iterator[tuple[int, ScanRead | None]]:
        """All pages that were asked for and not handed out."""
        while self._waiting:
            yield self.next()

    def close(self) -> None:
        """End the readers; pages that nobody waits for any more are dropped."""
        for _, page in self._waiting:
            page.cancel()
        self._threads.shutdown(wait=True, cancel_futures=True)
        while not self._workers.empty():
            self._workers.get().close()

    def _read(self, pdf_page: int) -> ScanRead | None:
        worker = self._worker()
        if worker is None:
            return None
        worker.want(ScanWanted(pdf_page, str(self.kept)))
        frame = worker.next()
        if isinstance(frame, ScanRead) and frame.layout.pdf_page == pdf_page:
            self._workers.put(worker)
            if not frame.again:
                scan_kept.keep(self.kept, frame)
            return frame
        worker.close()
        return None

    def _worker(self) -> Worker | None:
        """A reader that is free, else a new one."""
        try:
            return self._workers.get_nowait()
        except queue.Empty:
            worker = Worker(Request(str(self.path), LIMITS), SCANS)
        if isinstance(worker.opened(), Opened):
            return worker
        worker.close()
        return None
