"""The process that runs one command after another: `python hearing.py`, a line of JSON in, a line of JSON
out.

It is a process of its own so that a crash, a hang or a growth of memory in the program harms no test. Its
limits for PDF pages are shorter than those of the command, so that thousands of files can be heard.
"""

import contextlib
import json
import os
import resource
import sys
import time
from pathlib import Path
from typing import Any

MOST_BYTES = 4 * 2**30
"""Far above what is judged, and below what would harm the machine that runs the tests."""
PAGE_S, OPEN_S, WORKER_MB = 2.0, 8.0, 400


def shorten_limits() -> None:
    """Let a page and an opening take less time and memory than in the command itself."""
    from lastbolt.edge import pdf_in
    from lastbolt.edge.pdf_frames import Limits

    whole = pdf_in.PdfSettings
    limits = Limits(memory_MB=WORKER_MB, page_s=PAGE_S, open_s=OPEN_S)
    pdf_in.PdfSettings = lambda **given: whole(**{"limits": limits, **given})  # type: ignore[assignment,misc]


def used_s() -> float:
    """Processor seconds of this process and of those that it started and that have ended."""
    own, others = resource.getrusage(resource.RUSAGE_SELF), resource.getrusage(resource.RUSAGE_CHILDREN)
    return own.ru_utime + own.ru_stime + others.ru_utime + others.ru_stime


def heard(argv: list[str], said: Path) -> dict[str, Any]:
    """Run the command with both streams into files: its exit code (or what it raised) and its cost."""
    from lastbolt.cli.main import main

    raised, code = "", -1
    began, used = time.monotonic(), used_s()
    with (said / "out").open("wb") as out, (said / "err").open("wb") as err:
        os.dup2(out.fileno(), 1)
        os.dup2(err.fileno(), 2)
        try:
            code = main(argv)
        except SystemExit as left:
            code = left.code if isinstance(left.code, int) else -1
        except BaseException as error:
            raised = f"{type(error).__name__}: {error}"
        for stream in (sys.stdout, sys.stderr):
            with contextlib.suppress(OSError, ValueError):
                stream.flush()
    return {"code": code, "raised": raised, "wall_s": time.monotonic() - began, "cpu_s": used_s() - used}


def serve() -> None:
    """Answer each line of the standard input."""
    asked, answers = os.fdopen(os.dup(0), "rb"), os.fdopen(os.dup(1), "wb")
    nothing = os.open(os.devnull, os.O_RDONLY)
    os.dup2(nothing, 0)
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, resource.getrlimit(resource.RLIMIT_AS)[1]))
    if "--own-limits" not in sys.argv:
        shorten_limits()
    for line in asked:
        wanted = json.loads(line)
        with contextlib.suppress(OSError):
            Path("/proc/self/clear_refs").write_text("5", encoding="ascii")
        os.chdir(wanted["folder"])
        answers.write(json.dumps(heard(wanted["argv"], Path(wanted["said"]))).encode() + b"\n")
        answers.flush()


if __name__ == "__main__":
    serve()
