"""What people see in the terminal: wrapped words, problems, a progress line."""

import json
import shutil
import sys
import textwrap
from collections.abc import Iterable, Sequence
from typing import Any

import msgspec

from lastbolt.edge.plain_text import plain
from lastbolt.words.problem import Problem


def width() -> int:
    """Columns to write in: the terminal's, within what reads well."""
    return max(40, min(shutil.get_terminal_size((92, 24)).columns, 100))


def wrapped(text: str, indent: str = "", hang: str | None = None) -> str:
    """`text` wrapped to the terminal; `hang` indents every line after the first."""
    return textwrap.fill(
        plain(text), width(), initial_indent=indent, subsequent_indent=indent if hang is None else hang
    )


def say(text: str = "", indent: str = "", hang: str | None = None) -> None:
    """Print one paragraph."""
    print(wrapped(text, indent, hang) if text else "")


def line(text: str, out: Any = None) -> None:
    """Print one line as it is, however long: a path to copy."""
    print(plain(text), file=out or sys.stdout)


def count(number: int, noun: str) -> str:
    """ "1 point", "3 points"."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def heading(text: str) -> None:
    """Print a heading with a rule as long as its words."""
    text = plain(text)
    print(f"\n{text}\n{'-' * len(text)}")


def big(sentence: str) -> None:
    """The one sentence that matters, framed so that it is seen first."""
    bold, normal = ("\033[1m", "\033[0m") if sys.stdout.isatty() else ("", "")
    rule = "=" * min(width(), max(len(line) for line in wrapped(sentence).splitlines()))
    print(f"{rule}\n{bold}{wrapped(sentence)}{normal}\n{rule}")


LEAST_LAST = 14
"""Columns of the last cell below which a table is no table any more."""


def table(rows: Sequence[Sequence[str]], heads: Sequence[str]) -> None:
    """Print a plain table: heads and the last column wrap; where it is too wide, one block for each row."""
    cells = [[plain(cell) for cell in row] for row in rows]
    wide = [
        max(len(word) for word in (*heads[i].split(" "), *(row[i] for row in cells)))
        for i in range(len(heads) - 1)
    ]
    last = width() - 2 - sum(w + 2 for w in wide)
    longest = max((len(row[-1]) for row in cells), default=0)
    if last < min(LEAST_LAST, max(longest, len(heads[-1]))):
        _blocks(cells, heads)
        return
    last = min(last, max(longest, len(heads[-1])))
    _row(heads, [*wide, last])
    print("  " + "  ".join("-" * w for w in (*wide, last)))
    for row in cells:
        _row(row, [*wide, last])


def _row(cells: Sequence[str], wide: Sequence[int]) -> None:
    wrapped_cells = [textwrap.wrap(cell, w) or [""] for cell, w in zip(cells, wide, strict=True)]
    for number in range(max(map(len, wrapped_cells))):
        line = (lines[number] if number < len(lines) else "" for lines in wrapped_cells)
        print(("  " + "  ".join(part.ljust(w) for part, w in zip(line, wide, strict=True))).rstrip())


def _blocks(rows: Iterable[Sequence[str]], heads: Sequence[str]) -> None:
    """Each row by itself: its first cell, and below it what the others say, each under its head."""
    for row in rows:
        say(row[0], "  ")
        for head, cell in zip(heads[1:], row[1:], strict=True):
            if cell not in ("", "–"):
                say(f"{head}: {cell}", "      ", "        ")


def problem(item: Problem, out: Any = None) -> None:
    """Print a problem: code and what, where, what to do."""
    stream = out or sys.stderr
    print(wrapped(f"{item.code}  {item.what}", "", "        "), file=stream)
    print(wrapped(item.where, "  where ", "        "), file=stream)
    print(wrapped(item.do, "  do    ", "        "), file=stream)


def problems(items: Iterable[Problem], most: int = 1000) -> None:
    """Print problems, at most `most`, saying how many were left out."""
    listed = list(items)
    for item in listed[:most]:
        problem(item)
    if len(listed) > most:
        print(f"... and {len(listed) - most} more (all of them with --json).", file=sys.stderr)


def as_json(value: Any) -> None:
    """Print a value as JSON."""
    every_letter = (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"
    print(plain(json.dumps(msgspec.to_builtins(value), ensure_ascii=not every_letter, indent=1)))


class Progress:
    """One line on the terminal's error stream that says how far a long read is; silent elsewhere."""

    def __init__(self, what: str) -> None:
        self.what, self.shown = what, False
        self.live = sys.stderr.isatty()

    def __call__(self, done: int, total: int) -> None:
        if not self.live or total <= 0:
            return
        bar = "#" * (24 * done // total)
        print(f"\r{self.what}  [{bar:<24}] {done} of {total} pages", end="", file=sys.stderr, flush=True)
        self.shown = True

    def close(self) -> None:
        """End the line."""
        if self.shown:
            print(file=sys.stderr)
