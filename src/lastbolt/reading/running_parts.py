"""Parts lists in running words: "1. Cover, part no. 713-3266, 2 off; 2. Gasket, 713-3267 (1)": as tables."""

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.lines import Line
from lastbolt.reading.numbers import any_of
from lastbolt.reading.table_shape import Cell, Row, Table
from lastbolt.reading.table_words import Heading, table_words
from lastbolt.words.citation import Box

_FEWEST = 3
_BETWEEN = 3
"""Signs between one entry and the next."""
_TITLES = ("No.", "Name", "Quantity", "Part number")
_HEADINGS = tuple(Heading(role, "") for role in ("item", "name", "quantity", "part_number"))
_NUMBER = re.compile(r"(?:\d[^\s\d]?){4}|\d{4}|\d+[-/]\d+")


class _Run(NamedTuple):
    """Lines one below the other as one text, and where each begins in it."""

    text: str
    starts: tuple[tuple[int, Line], ...]


def running_parts(pdf_page: int, lines: Sequence[Line]) -> list[Table]:
    """The lists of parts among the running lines of a page, each as a table."""
    if sum(_NUMBER.search(line.text) is not None for line in lines if not line.region) < 1:
        return []
    found = []
    for run in _runs(lines):
        chain: list[re.Match[str]] = []
        for match in (*_entry().finditer(run.text), None):
            near = bool(chain) and match is not None and match.start() - chain[-1].end() <= _BETWEEN
            if match is not None and (near or not chain):
                chain.append(match)
                continue
            if len(chain) >= _FEWEST:
                found.append(_table(pdf_page, run, chain))
            chain = [match] if match is not None else []
    return found


@lru_cache(maxsize=1)
def _entry() -> re.Pattern[str]:
    words = table_words()
    label = rf"(?:(?i:{any_of(words.known('part_number'))})\.?:?\s)?"
    counted = rf"(?:\s?(?i:{any_of(words.counted)})\.?)?"
    parted = r"(?:[,;:]|\s[–—-])\s"
    return re.compile(
        rf"(?<!\S)(?P<item>\d{{1,3}}[a-z]?)(?:[.):]|\s[–—-])?\s(?P<name>[^\W\d_][^;]{{1,60}}?){parted}"
        rf"{label}(?P<number>(?=(?:[^\s\d]*\d){{4}})[A-Z0-9][A-Z0-9.\-/]{{3,17}}(?<![.\-/]))"
        rf"(?:{parted}(?P<count>\d{{1,3}}){counted}|\s?[(\[](?P<more>\d{{1,3}}){counted}[)\]])(?=[.,;\s]|$)[.,;]?"
    )


def _runs(lines: Sequence[Line]) -> Iterator[_Run]:
    text, starts = "", list[tuple[int, Line]]()
    last: Line | None = None
    for line in lines:
        goes_on = (
            last is not None and not line.region and line.column == last.column
            and -0.5 < (line.top - last.bottom) / max(line.bottom - line.top, 0.001) < 1.5
        )  # fmt: skip
        if not goes_on and text:
            yield _Run(text, tuple(starts))
            text, starts = "", []
        if not line.region:
            starts.append((len(text), line))
            text += line.text.replace("\t", " ").strip() + " "
        last = None if line.region else line
    if text:
        yield _Run(text, tuple(starts))


def _table(pdf_page: int, run: _Run, chain: Sequence["re.Match[str]"]) -> Table:
    rows = []
    for match in chain:
        on = [line for at, line in run.starts if at < match.end() and at + len(line.text) >= match.start()]
        box = _around(on)
        said = (match["item"], match["name"].strip(), match["count"] or match["more"], match["number"])
        rows.append(Row(tuple(Cell(text, box[0], False) for text in said), box))
    box = _around([line for _, line in run.starts if _touches(line, rows)])
    return Table(pdf_page, box, False, _TITLES, _HEADINGS, tuple(rows))


def _touches(line: Line, rows: Sequence[Row]) -> bool:
    middle = (line.top + line.bottom) / 2
    return any(row.box[1] <= middle <= row.box[3] for row in rows)


def _around(lines: Sequence[Line]) -> Box:
    return (
        min(line.left for line in lines), min(line.top for line in lines),
        max(line.right for line in lines), max(line.bottom for line in lines),
    )  # fmt: skip
