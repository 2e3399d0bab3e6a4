"""Parts lists in lines: "2 – Sparking plug (1) ..... 713-3266", with or without leaders: as tables."""

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from lastbolt.reading.lines import Line
from lastbolt.reading.table_words import Heading
from lastbolt.reading.tables import Cell, Row, Table

_FEWEST = 3
"""So many entries one below the other make a list."""
_DOTS = re.compile(r"(?:\s?[.·…_]){2,}\s?")
_LEADER = "\t"
"""Leaders are made one sign before an entry is read."""
_NUMBER = r"(?P<number>(?=(?:\D*\d){4})[A-Z0-9][A-Z0-9.\-/]{3,17}(?:\s\d{2,6}){0,3})"
_NAME = r"(?:(?P<item>\d{1,3}[a-z]?)[.)]?\s)?(?P<name>(?:[–—.·-]\s?)*[^\W\d_].*?)"
_ENTRIES = (
    re.compile(
        rf"{_NAME}\s?[(\[](?P<count>\d{{1,3}}|[^\W\d_][^()\[\]]{{1,14}})[)\]][\s.]{{0,3}}{_LEADER}?{_NUMBER}"
    ),
    re.compile(rf"{_NAME}{_LEADER}{_NUMBER}\s[(\[]?(?P<count>\d{{1,3}})[)\]]?"),
)
_TITLES = ("No.", "Name", "Quantity", "Part number")
_HEADINGS = tuple(Heading(role, "") for role in ("item", "name", "quantity", "part_number"))
_LONGEST = 90


class _Entry(NamedTuple):
    cells: tuple[str, str, str, str]
    lines: tuple[Line, ...]


def parts_lists(pdf_page: int, lines: Sequence[Line]) -> list[Table]:
    """The lists of parts on a page that stand in running lines, each as a table."""
    if sum(line.text[-1:].isdigit() for line in lines if not line.region) < _FEWEST:
        return []
    found: list[Table] = []
    run: list[_Entry] = []
    for entry in (*_entries(lines), None):
        if entry is not None:
            run.append(entry)
            continue
        if len(run) >= _FEWEST:
            found.append(_table(pdf_page, run))
        run = []
    return found


def _entries(lines: Sequence[Line]) -> Iterator[_Entry | None]:
    """The entries in order; None where a line belongs to none."""
    waiting: Line | None = None
    for line in lines:
        text = line.text.replace("\t", " ").strip()
        whole = None if line.region else _read(text)
        if whole is not None:
            if waiting is not None:
                yield None
            waiting = None
            yield _Entry(whole, (line,))
            continue
        both = None if waiting is None or line.region else _read(f"{waiting.text.strip()} {text}")
        if both is not None and waiting is not None:
            yield _Entry(both, (waiting, line))
            waiting = None
            continue
        if waiting is not None:
            yield None
        waiting = line._replace(text=text) if not line.region and _opens(text) else None
        if waiting is None:
            yield None
    yield None


def _read(text: str) -> tuple[str, str, str, str] | None:
    said = _DOTS.sub(_LEADER, text)
    counted = said[-1:].isdigit() and ("(" in said or "[" in said)
    if len(said) > 2 * _LONGEST or not (counted or _LEADER in said):
        return None
    for pattern in _ENTRIES:
        match = pattern.fullmatch(said)
        if match is not None:
            return match["item"] or "", match["name"].strip(" .·…_"), match["count"], match["number"]
    return None


def _opens(text: str) -> bool:
    """Whether a line may be the first of an entry that runs over two."""
    return len(text) < _LONGEST and re.match(r"\d{1,3}[a-z]?[.)]?\s\S", text) is not None


def _table(pdf_page: int, entries: Sequence[_Entry]) -> Table:
    rows = []
    for entry in entries:
        left, right = min(one.left for one in entry.lines), max(one.right for one in entry.lines)
        top, bottom = min(one.top for one in entry.lines), max(one.bottom for one in entry.lines)
        lefts = (left, left, right, right)
        cells = tuple(Cell(text, at, False) for text, at in zip(entry.cells, lefts, strict=True))
        rows.append(Row(cells, (left, top, right, bottom)))
    boxes = [row.box for row in rows]
    box = (
        min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)
    )  # fmt: skip
    return Table(pdf_page, box, False, _TITLES, _HEADINGS, tuple(rows))
