"""One worker process as its parent sees it: frames, or the reason why none came."""

import contextlib
import os
import queue
import signal
import subprocess
import sys
import threading
from typing import BinaryIO, Literal, NamedTuple, cast

from lastbolt.edge.pdf_frames import Frame, Message, Request, ScanWanted, Share, read_frame, write_frame

PAGES = "lastbolt.edge.pdf_worker"
SCANS = "lastbolt.edge.scan_worker"
_WAITING_FRAMES = 32
_GRACE_S = 5.0


class Gone(NamedTuple):
    """The worker will give no further frame, and why."""

    why: Literal["crashed", "timed out"]


class Worker:
    """A worker process, and the thread that empties its pipe into a short queue."""

    def __init__(self, request: Request, module: str = PAGES) -> None:
        self._limits = request.limits
        self._frames: queue.Queue[Frame | None] = queue.Queue(_WAITING_FRAMES)
        self._closing = False
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-m", module],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
        )
        self._send(request)
        self._pump = threading.Thread(target=self._fill, daemon=True)
        self._pump.start()

    @property
    def pid(self) -> int:
        """The process id, for measuring."""
        return self._process.pid

    def share(self, share: Share) -> None:
        """Tell the worker which pages are its own."""
        self._send(share)

    def want(self, page: ScanWanted) -> None:
        """Ask a reader of scans for one page."""
        self._send(page)

    def opened(self) -> Frame | Gone:
        """The first frame: how opening the file went."""
        return self._next(self._limits.open_s + _GRACE_S)

    def next(self) -> Frame | Gone:
        """The next frame, or why there is none."""
        return self._next(self._limits.page_s + _GRACE_S)

    def last(self) -> Frame | Gone:
        """The frame after the pages: the file as a whole may take as long as opening it."""
        return self._next(self._limits.open_s + _GRACE_S)

    def close(self) -> None:
        """End the process if it still runs, and wait for it."""
        self._closing = True
        self._process.kill()
        self._process.wait()
        self._pump.join()
        for stream in (self._process.stdin, self._process.stdout):
            if stream is not None:
                with contextlib.suppress(OSError):
                    stream.close()

    def _send(self, message: Message) -> None:
        with contextlib.suppress(OSError):  # a dead worker is noticed when it is read from
            write_frame(cast(BinaryIO, self._process.stdin), message)

    def _fill(self) -> None:
        stream = cast(BinaryIO, self._process.stdout)
        while not self._closing:
            try:
                frame = read_frame(stream)
            except (OSError, ValueError):
                frame = None
            self._put(frame)
            if frame is None:
                return

    def _put(self, frame: Frame | None) -> None:
        while not self._closing:
            with contextlib.suppress(queue.Full):
                self._frames.put(frame, timeout=0.2)
                return

    def _next(self, seconds: float) -> Frame | Gone:
        try:
            frame = self._frames.get(timeout=seconds)
        except queue.Empty:
            return Gone("timed out")
        if frame is not None:
            return frame
        try:
            code = self._process.wait(timeout=_GRACE_S)
        except subprocess.TimeoutExpired:
            return Gone("crashed")
        alarm = getattr(signal, "SIGALRM", None)
        return Gone("timed out" if alarm is not None and code == -alarm else "crashed")


def cores() -> int:
    """How many cores this process may use."""
    with contextlib.suppress(AttributeError, OSError):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
