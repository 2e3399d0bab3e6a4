"""What reading costs: `python -m bench.bench_read [PAGES]` prints pages per second, ratios and peak memory.

Corpus: bench/pdf_corpus.py (300 pages; 1,000 for memory). Each program runs in one process of its own, on the
same machine in the same run: pdfplumber's extract_words, then ours, three times in turn; the middle
one counts.
pdfplumber reads the first 60 pages only (its time per page does not depend on how many there are).
"""

import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

from bench.pdf_corpus import write_corpus

_PLUMBER_PAGES = 60
_TURNS = 3
_PLUMBER = """
import sys, time, pdfplumber
start, words, pages = time.perf_counter(), 0, 0
with pdfplumber.open(sys.argv[1]) as document:
    for page in document.pages[: int(sys.argv[2])]:
        words += len(page.extract_words())
        pages += 1
        page.close()
print(pages / (time.perf_counter() - start))
"""
_OURS = """
import sys, time
import pypdfium2.raw as raw
from lastbolt.edge.pdf_worker import read_page
raw.FPDF_InitLibrary()
start, words = time.perf_counter(), 0
document = raw.FPDF_LoadDocument(sys.argv[1].encode(), None)
pages = raw.FPDF_GetPageCount(document)
for number in range(1, pages + 1):
    words += len(read_page(document, number).layout.words)
print(pages / (time.perf_counter() - start))
"""
_STREAMED = """
import sys, time
from pathlib import Path
from lastbolt.edge.pdf_in import PdfSettings, read_pages
start = time.perf_counter()
pages = sum(1 for _ in read_pages(Path(sys.argv[1]), PdfSettings(workers=int(sys.argv[2]))))
print(pages / (time.perf_counter() - start))
"""
_PARTS = """
import sys, time
from pathlib import Path
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.reading.figures import figures_on
from lastbolt.reading.parts import PartsSettings
from lastbolt.reading.parts_list import PartsReader
from lastbolt.reading.tables import tables_on
start, pages, reader = time.perf_counter(), 0, PartsReader(PartsSettings("b", "b"))
for page in read_pages(Path(sys.argv[1]), PdfSettings(workers=int(sys.argv[2]))):
    tables = tables_on(page)
    reader.add_page(tables, figures_on(page, "b", tables).found)
    pages += 1
reader.finish()
print(pages / (time.perf_counter() - start))
"""
_WHOLE = """
import contextlib, io, sys, time
from lastbolt.cli.main import main
start = time.perf_counter()
with contextlib.redirect_stdout(io.StringIO()):
    main(["read", sys.argv[1], "--out", sys.argv[2]])
print(int(sys.argv[3]) / (time.perf_counter() - start))
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
    """Pages per second of each program, the middle of three turns, and how many times pdfplumber's."""
    programs = {
        "pdfplumber words": ((_PLUMBER, str(corpus), str(_PLUMBER_PAGES)), ""),
        "our words, boxes, drawn (one process)": ((_OURS, str(corpus)), "at least 10 x"),
        "the same out of one worker": ((_STREAMED, str(corpus), "1"), ""),
        "the same out of two workers": ((_STREAMED, str(corpus), "2"), ""),
        "with tables, figures, parts rows": ((_PARTS, str(corpus), "2"), ""),
        "the whole read (lastbolt read)": (
            (_WHOLE, str(corpus), str(folder / "model.json"), str(pages)), "at least 5 x"
        ),
    }  # fmt: skip
    runs: dict[str, list[float]] = {name: [] for name in programs}
    for _ in range(_TURNS):
        for name, ((program, *arguments), _mark) in programs.items():
            value = _run(program, *arguments)
            if value is not None:
                runs[name].append(value)
    base = _middle(runs["pdfplumber words"])
    rows = []
    for name, (_, mark) in programs.items():
        if not runs[name]:
            raise RuntimeError(f"{name} does not run")
        speed = _middle(runs[name])
        rows.append(
            (
                f"read, {pages} pages: {name}",
                f"{speed:.0f} ({speed / base:.1f} x pdfplumber)",
                "pages/s",
                mark,
            )
        )
    return rows


def _middle(values: list[float]) -> float:
    return sorted(values)[len(values) // 2]


def _run(program: str, *arguments: str) -> float | None:
    ended = subprocess.run(
        [sys.executable, "-c", program, *arguments], capture_output=True, text=True, check=False
    )
    lines = ended.stdout.strip().splitlines()
    return float(lines[-1]) if ended.returncode == 0 and lines else None


def _peak_of(program: str, *arguments: str) -> tuple[float, float]:
    """Seconds, and the greatest sum of resident memory over the process and its children, in MB."""
    start = time.perf_counter()
    process = subprocess.Popen([sys.executable, "-c", program, *arguments], stdout=subprocess.DEVNULL)
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
