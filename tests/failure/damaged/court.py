"""Runs commands in a process that may crash, hang or grow, and says what each of them cost."""

import contextlib
import json
import os
import select
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path
from typing import IO, NamedTuple, cast

HEARING = Path(__file__).with_name("hearing.py")
SAMPLE_S = 0.1
HANGS_CPU_S, HANGS_WALL_S = 40.0, 400.0
"""A command that has used so many processor seconds, or not answered for so long on a busy machine, hangs."""
MB = 2**20


class Heard(NamedTuple):
    """One command as it went; `ended` says how it ended when it gave no exit code."""

    code: int
    out: str
    err: str
    wall_s: float
    cpu_s: float
    memory_MB: float
    ended: str = ""


class Court:
    """A process that hears one command after another, replaced when one of them ended it."""

    def __init__(self, said: Path, *, own_limits: bool = False) -> None:
        self._said, self._own = said, own_limits
        self._process: subprocess.Popen[bytes] | None = None

    def hear(self, argv: list[str], folder: Path) -> Heard:
        """Run the command in the folder."""
        process = self._started()
        wanted = {"argv": argv, "folder": str(folder), "said": str(self._said)}
        for name in ("out", "err"):
            (self._said / name).write_bytes(b"")
        writing = cast(IO[bytes], process.stdin)
        writing.write(json.dumps(wanted).encode() + b"\n")
        writing.flush()
        began, used = time.monotonic(), _used_s(process.pid)
        with Watched(process.pid) as watched:
            line = self._answer(process)
        out, err = ((self._said / name).read_text("utf-8", "replace") for name in ("out", "err"))
        wall_s = time.monotonic() - began
        if not line:
            hung = _used_s(process.pid) - used >= HANGS_CPU_S or wall_s >= HANGS_WALL_S
            with contextlib.suppress(subprocess.TimeoutExpired):
                process.wait(timeout=0.0 if hung else 10.0)
            self.close()
            ended = "it hung" if hung else f"it crashed (exit {process.returncode})"
            return Heard(-1, out, err, wall_s, 0.0, watched.peak_MB, ended)
        told = json.loads(line)
        return Heard(
            told["code"], out, err, told["wall_s"], told["cpu_s"], watched.peak_MB, told["raised"]
        )  # fmt: skip

    def close(self) -> None:
        """End the process and those it started."""
        if self._process is None:
            return
        if self._process.poll() is None:
            os.killpg(self._process.pid, signal.SIGKILL)  # it leads a session of its own
        self._process.wait()
        for stream in (self._process.stdin, self._process.stdout):
            if stream is not None:
                stream.close()
        self._process = None

    def _started(self) -> subprocess.Popen[bytes]:
        if self._process is None:
            more = ["--own-limits"] if self._own else []
            self._process = subprocess.Popen(
                [sys.executable, str(HEARING), *more],
                stdin=subprocess.PIPE, stdout=subprocess.PIPE, start_new_session=True,
            )  # fmt: skip
        return self._process

    def _answer(self, process: subprocess.Popen[bytes]) -> bytes:
        stream = cast(IO[bytes], process.stdout)
        until, used = time.monotonic() + HANGS_WALL_S, _used_s(process.pid)
        while time.monotonic() < until and _used_s(process.pid) - used < HANGS_CPU_S:
            ready, _, _ = select.select([stream], [], [], 1.0)
            if ready:
                return stream.readline()
        return b""


class Watched:
    """Measures the memory of a process and its descendants while the block runs."""

    def __init__(self, pid: int) -> None:
        self._pid, self.peak_MB = pid, 0.0
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._watch, daemon=True)

    def __enter__(self) -> "Watched":
        self._thread.start()
        return self

    def __exit__(self, *what: object) -> None:
        self._over.set()
        self._thread.join()
        self.peak_MB = max(self.peak_MB, _status_MB(self._pid, "VmHWM:"))

    def _watch(self) -> None:
        while not self._over.wait(SAMPLE_S):
            self.peak_MB = max(self.peak_MB, sum(_status_MB(pid, "VmRSS:") for pid in _family(self._pid)))


def _family(session: int) -> list[int]:
    """The processes of the session: the one that leads it and all that descend from it."""
    found = []
    for process in Path("/proc").iterdir():
        if process.name.isdigit() and int(process.name) >= session:
            try:
                stat = (process / "stat").read_text("ascii", "replace")
            except OSError:
                continue
            if stat.rpartition(")")[2].split()[3] == str(session):
                found.append(int(process.name))
    return found


def _used_s(pid: int) -> float:
    """Processor seconds of the process itself."""
    try:
        stat = Path(f"/proc/{pid}/stat").read_text("ascii", "replace")
    except OSError:
        return 0.0
    fields = stat.rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def _status_MB(pid: int, field: str) -> float:
    try:
        text = Path(f"/proc/{pid}/status").read_text("ascii", "replace")
    except OSError:
        return 0.0
    for line in text.splitlines():
        if line.startswith(field):
            return int(line.split()[1]) * 1024 / MB
    return 0.0
