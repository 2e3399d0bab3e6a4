"""The tables of a source with the words that stand beside each, page by page."""

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from lastbolt.reading.limit_table import TableAt
from lastbolt.reading.lines import Line
from lastbolt.reading.tables import EMPTY_CELL, Cell, Row, Table
from lastbolt.words.citation import Box

_NEAR = 4.0
"""Words beside a table stand at most this many of their own heights above it, or half of it below."""
_MOST_BESIDE = 3
_ROW_GAP = 2.4
"""A gap of more line heights than this ends a table without rules."""
_BESIDE_COLUMN = 0.06
"""A cell begins at most this far from where those of its column begin."""


_VALUE = re.compile(r"(?:[\s–—-]*|[^\W\d_]{0,4}[\s.(]{0,2}[\d.,±+–-].{0,28}|[nN][./]?[aA]\.?)$")


class PageOfTables(NamedTuple):
    """The tables of a page that are no parts lists, and its lines without running heads."""

    tables: Sequence[Table]
    lines: Sequence[Line]
    printed_page: str | None


def tables_at(pages: Iterable[PageOfTables]) -> Iterator[TableAt]:
    """Every table with the lines above it, and whether it opens or ends its page.

    Rows at the head of a page that go on with a table without rules, and have no headings of their own there,
    are no table to the rules for pages; here they are the rest of it.
    """
    open_table: Table | None = None
    for page in pages:
        if open_table is not None:
            yield from _rest_of(open_table, page)
        open_table = None
        for table in page.tables:
            free = [line for line in page.lines if not _inside(line, table.box)]
            first = all(line.top >= table.box[1] for line in free)
            last = all(line.bottom <= table.box[3] + 0.005 for line in free)
            yield TableAt(table, words_beside(free, table.box), page.printed_page, first, last)
            open_table = table if last and not table.ruled and table.column("limit") is not None else None


def _rest_of(table: Table, page: PageOfTables) -> Iterator[TableAt]:
    """The lines at the head of a page that stand under a table's columns, as a table of that shape."""
    lefts = _lefts(table)
    valued = [
        at for at, heading in enumerate(table.headings) if heading is not None and heading.role == "limit"
    ]
    rows: list[Row] = []
    names: list[Row] = []
    left_over = ""
    bottom = None
    for level in _levels(page.lines):
        height = level[0].bottom - level[0].top
        if bottom is not None and level[0].top - bottom > _ROW_GAP * height:
            break
        cells = _under(level, lefts)
        if cells is None or not all(_VALUE.match(cells[at].text) for at in valued):
            numbers = [line for line in level[1:] if line.text[:1].isdigit()]
            left_over = (
                " | ".join(line.text.replace("\t", " | ") for line in level) if numbers and rows else ""
            )
            break
        bottom = level[0].bottom
        row = Row(tuple(cells), _around(level))
        if any(cells[at].text for at in valued):
            rows += [*names, row]
            names = []
        else:
            names.append(row)
    if any(c.isdigit() for row in rows for cell in row.cells[1:] for c in cell.text):
        boxes = [row.box for row in rows]
        box = min(b[0] for b in boxes), boxes[0][1], max(b[2] for b in boxes), boxes[-1][3]
        made = table._replace(pdf_page=table.pdf_page + 1, box=box, rows=tuple(rows))
        yield TableAt(made, "", page.printed_page, first=True, left_over=left_over)


def _lefts(table: Table) -> list[float]:
    """Where the cells of each column begin as a rule."""
    lefts = []
    for column in range(len(table.titles)):
        found = sorted(row.cells[column].left for row in table.rows if row.cells[column].text)
        lefts.append(found[len(found) // 2] if found else -1.0)
    return lefts


def _levels(lines: Sequence[Line]) -> Iterator[list[Line]]:
    """The lines of a page down to its first table or drawing, those side by side together."""
    level: list[Line] = []
    first = min((line.top for line in lines if line.region), default=2.0)
    for line in sorted((line for line in lines if line.top < first), key=lambda line: line.top + line.bottom):
        if level and line.top + line.bottom > level[0].bottom * 2:
            yield sorted(level, key=lambda one: one.left)
            level = []
        level.append(line)
    if level:
        yield sorted(level, key=lambda one: one.left)


def _under(level: Sequence[Line], lefts: Sequence[float]) -> list[Cell] | None:
    """The lines of one level as cells of the columns they stand under, or None where they fit none."""
    cells = [EMPTY_CELL] * len(lefts)
    for line in level:
        parts = [part.strip() for part in line.text.split("\t")]
        column = min(range(len(lefts)), key=lambda at: abs(lefts[at] - line.left))
        if abs(lefts[column] - line.left) > _BESIDE_COLUMN or column + len(parts) > len(lefts):
            return None
        if len(parts) > 1 and column + len(parts) != len(lefts):
            return None
        over = [left for left in lefts[column + len(parts) :] if left < line.right]
        if over or any(cell.text for cell in cells[column : column + len(parts)]):
            return None
        cells[column : column + len(parts)] = [Cell(part, line.left, line.bold) for part in parts]
    return cells


def _around(lines: Sequence[Line]) -> Box:
    return (
        min(line.left for line in lines), min(line.top for line in lines),
        max(line.right for line in lines), max(line.bottom for line in lines),
    )  # fmt: skip


def _inside(line: Line, box: Box) -> bool:
    middle = (line.top + line.bottom) / 2
    return box[1] - 0.002 <= middle <= box[3] + 0.002 and line.left < box[2] and line.right > box[0]


def words_beside(lines: Sequence[Line], box: Box) -> str:
    """The nearest lines above a table that stand over it, and the one right below."""
    above = [
        line for line in lines if line.bottom <= box[1] + 0.003 and line.left < box[2] and line.right > box[0]
    ]
    found: list[str] = []
    edge = box[1]
    for line in sorted(above, key=lambda line: -line.bottom)[:_MOST_BESIDE]:
        if edge - line.bottom > _NEAR * (line.bottom - line.top):
            break
        found.insert(0, line.text.replace("\t", " "))
        edge = line.top
    below = [line for line in lines if 0 <= line.top - box[3] < 2 * (line.bottom - line.top)]
    return " | ".join([*found, *(line.text.replace("\t", " ") for line in below[:1])])
