"""What reading costs: `python -m bench.bench_read [PAGES]` prints pages per second, ratios and peak memory.

Corpus: bench/pdf_corpus.py (300 pages; 1,000 for memory). Each program runs in one process of its own, on the
same machine in the same run: pdfplumber's extract_words, then ours, three times in turn; the middle
one counts.
pdfplumber reads the first 60 pages only (its time per page does not depend on how many there are). The time
of all processes together, in ms of processor per page, stands beside; on a busy machine it says more.
"""

import os
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path
from typing import NamedTuple

from bench.pdf_corpus import write_corpus

_PLUMBER_PAGES = 60
_TURNS = 3
_CLOCK = """
import resource, sys, time
def spent():
    every = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(one.ru_utime + one.ru_stime for one in every)
def begin():
    global start, before
    start, before = time.perf_counter(), spent()
def tell(pages):
    print(pages / (time.perf_counter() - start), 1000 * (spent() - before) / pages)
"""
_PLUMBER = """
import pdfplumber
begin()
words = pages = 0
with pdfplumber.open(sys.argv[1]) as document:
    for page in document.pages[: int(sys.argv[2])]:
        words += len(page.extract_words())
        pages += 1
        page.close()
tell(pages)
"""
_BARE = """
import pypdfium2
begin()
document = pypdfium2.PdfDocument(sys.argv[1])
words = sum(len(page.get_textpage().get_text_range().split()) for page in document)
tell(len(document))
"""
_OURS = """
import pypdfium2.raw as raw
from lastbolt.edge.pdf_worker import read_page
raw.FPDF_InitLibrary()
begin()
document = raw.FPDF_LoadDocument(sys.argv[1].encode(), None)
pages = raw.FPDF_GetPageCount(document)
words = sum(len(read_page(document, number).layout.words) for number in range(1, pages + 1))
tell(pages)
"""
_STREAMED = """
from pathlib import Path
from lastbolt.edge.pdf_in import PdfSettings, read_pages
begin()
tell(sum(1 for _ in read_pages(Path(sys.argv[1]), PdfSettings(workers=int(sys.argv[2])))))
"""
_PARTS = """
from pathlib import Path
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.reading.figures import figures_on
from lastbolt.reading.parts import PartsSettings
from lastbolt.reading.parts_list import PartsReader
from lastbolt.reading.tables import tables_on
begin()
pages, reader = 0, PartsReader(PartsSettings("b", "b"))
for page in read_pages(Path(sys.argv[1]), PdfSettings(workers=int(sys.argv[2]))):
    tables = tables_on(page)
    reader.add_page(tables, figures_on(page, "b", tables).found)
    pages += 1
reader.finish()
tell(pages)
"""
_WHOLE = """
import contextlib, io
from lastbolt.cli.main import main
begin()
with contextlib.redirect_stdout(io.StringIO()):
    main(["read", sys.argv[1], "--out", sys.argv[2]])
tell(int(sys.argv[3]))
"""
Row = tuple[str, str, str, str]


def main(pages: int = 300) -> list[Row]:
    """Rows of (what, value, unit, mark)."""
    with tempfile.TemporaryDirectory() as folder:
        corpus, large = Path(folder) / "corpus.pdf", Path(folder) / "large.pdf"
        write_corpus(corpus, pages)
        write_corpus(large, 1000)
        rows = _speeds(corpus, pages, Path(folder))
        for count, path in ((pages, corpus), (1000, large)):
            model = str(Path(folder) / f"model{count}.json")
            seconds, peak_MB = _peak_of(_WHOLE, str(path), model, str(count))
            what = f"the whole read of {count} pages, peak of the process tree"
            rows.append((what, f"{peak_MB:.0f}", "MB", "under 500"))
            rows.append(
                (
                    f"the whole read of {count} pages, per page",
                    f"{1000 * seconds / count:.1f}",
                    "ms",
                    "linear",
                )
            )
        return rows


def _speeds(corpus: Path, pages: int, folder: Path) -> list[Row]:
    """Pages per second of each program, the middle of three turns, as times of pdfplumber's; then ratios."""
    programs = {
        "pdfplumber words": ((_PLUMBER, str(corpus), str(_PLUMBER_PAGES)), ""),
        "the bare PDF library's words": ((_BARE, str(corpus)), ""),
        "our words, boxes, drawn (one process)": ((_OURS, str(corpus)), "at least 10 x"),
        "the same out of one worker": ((_STREAMED, str(corpus), "1"), ""),
        "the same out of two workers": ((_STREAMED, str(corpus), "2"), ""),
        "with tables, figures, parts rows": ((_PARTS, str(corpus), "2"), ""),
        "the whole read (lastbolt read)": (
            (_WHOLE, str(corpus), str(folder / "model.json"), str(pages)), "at least 5 x"
        ),
    }  # fmt: skip
    runs: dict[str, list[Ran]] = {name: [] for name in programs}
    for _ in range(_TURNS):
        for name, ((program, *arguments), _mark) in programs.items():
            runs[name].append(_run(program, *arguments))
    middle = {name: sorted(ran)[len(ran) // 2] for name, ran in runs.items()}
    base = middle["pdfplumber words"].speed
    rows = [
        (
            f"read, {pages} pages: {name}",
            f"{ran.speed:.0f} ({ran.speed / base:.1f} x pdfplumber), {ran.cpu_ms:.1f} ms",
            "pages/s, processor a page",
            programs[name][1],
        )
        for name, ran in middle.items()
    ]
    bare, ours, one, two = (ran.speed for ran in list(middle.values())[1:5])
    return [
        *rows,
        ("read: our words, in times of the bare library's", f"{bare / ours:.1f}", "", "at most 3"),
        ("read: two workers against one", f"{two / one:.2f}", "times", "at least 1.8"),
    ]


class Ran(NamedTuple):
    """How a program ran: pages a second, and milliseconds of processor for a page."""

    speed: float
    cpu_ms: float


def _run(program: str, *arguments: str) -> Ran:
    ended = subprocess.run(
        [sys.executable, "-c", _CLOCK + program, *arguments],
        capture_output=True, text=True, check=True, env=_as_installed(),
    )  # fmt: skip
    speed, cpu_ms = ended.stdout.strip().splitlines()[-1].split()
    return Ran(float(speed), float(cpu_ms))


def _as_installed() -> dict[str, str]:
    """The environment in which modules are kept compiled, as those of an installed program are."""
    return {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def _peak_of(program: str, *arguments: str) -> tuple[float, float]:
    """Seconds, and the greatest sum of resident memory over the process and its children, in MB."""
    start = time.perf_counter()
    command = [sys.executable, "-c", _CLOCK + program, *arguments]
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, env=_as_installed())
    peak = 0
    done = threading.Event()
    while not done.is_set():
        peak = max(peak, _tree_kB(process.pid))
        if process.poll() is not None:
            done.set()
        time.sleep(0.02)
    return time.perf_counter() - start, peak / 1024


def _tree_kB(pid: int) -> int:
    """Proportional memory of the process and its children (Linux)."""
    total = 0
    waiting = [pid]
    while waiting:
        one = waiting.pop()
        try:
            for line in Path(f"/proc/{one}/smaps_rollup").read_text(encoding="ascii").splitlines():
                if line.startswith("Pss:"):
                    total += int(line.split()[1])
            children = Path(f"/proc/{one}/task/{one}/children").read_text(encoding="ascii")
        except (OSError, ValueError):
            continue
        waiting += [int(child) for child in children.split()]
    return total


if __name__ == "__main__":
    for row in main(int(sys.argv[1]) if len(sys.argv) > 1 else 300):
        print(*row)
