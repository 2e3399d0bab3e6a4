"""Parts tables that go on without headings of their own: over a page break, in a second half beside the
first, or further down the page."""

import re
from collections.abc import Sequence
from typing import NamedTuple

import msgspec

from lastbolt.reading.cell_counts import read_quantity
from lastbolt.reading.gutters import Gutters
from lastbolt.reading.heads import Heads
from lastbolt.reading.leaders import without_leaders
from lastbolt.reading.parts import heads_of_table, is_parts_table
from lastbolt.reading.table_contents import by_contents
from lastbolt.reading.table_words import table_words
from lastbolt.reading.tables import (
    Row,
    Table,
    cell_of,
    follow,
    inside,
    phrases_of,
    split_at,
    tables_on,
    text_rows,
    unruled,
)
from lastbolt.words.page import PageLayout, Word

_ITEM = re.compile(r"\(?[\dA-Za-z]{1,4}(?:[-.]\d{1,3})?[a-zA-Z]?[.)]?")
_MOST_ROWS = 0.6
"""So many of the rows must read as parts for a table without headings to count as going on."""
_SAME_EDGE = 0.012
_PAGES = 2
"""A table may go on behind so many pages without one (a drawing stands between)."""
_LEFT_EM = 3.0


class Going:
    """Remembers the parts tables of the last pages while a book is read page by page."""

    def __init__(self) -> None:
        self._before: list[Table] = []
        self._ago = 0

    def tables(self, page: PageLayout) -> list[Table]:
        """The page's tables, and those parts of lists whose headings stand beside, above or a page before."""
        page = msgspec.structs.replace(page, words=without_leaders(page.words))
        words = table_words()
        found = tables_on(page)
        mine = [table for table in found if _headed(table)]
        if mine or self._before:
            found = _completed(page, found, mine, self._before)
        found = [by_contents(page, table, words) for table in found]
        parts = [table for table in found if _headed(table)]
        self._ago += 1
        if parts:
            self._before, self._ago = parts, 0
        elif self._ago >= _PAGES:
            self._before = []
        return found


def _headed(table: Table) -> bool:
    return bool(table.heads) and is_parts_table(table)


def _completed(
    page: PageLayout, found: list[Table], mine: Sequence[Table], before: Sequence[Table]
) -> list[Table]:
    known = [*mine, *before]
    tables = [_with_headings(table, known) for table in found]
    tables = [half for table in tables for half in _halves(page, table)]
    for table in [table for table in tables if not table.ruled and _headed(table)]:
        boxes = [one.box for one in tables if one is not table]
        free = [word for word in page.words if not any(inside(word, box) for box in boxes)]
        cut = _second_half(page, table, free)
        if cut is not None:
            tables = [one for one in tables if one is not table]
            left = [word for word in free if not (word.left >= cut and word.bottom > table.box[1])]
            again = [one for one in unruled(page, left, table_words()) if _headed(one) and one.box[0] < cut]
            right = [word for word in free if word.left >= cut and word.bottom > table.box[1]]
            tables += again[:1] + _rows_like(page, table, right, cut - _first(table))
    for table in [one for one in tables if _headed(one)] or list(before):
        boxes = [one.box for one in tables]
        rest = [word for word in page.words if not any(inside(word, box) for box in boxes)]
        begins = table.box[3] if table.pdf_page == page.pdf_page else 0.0
        tables += _rows_like(page, table, [word for word in rest if word.top > begins], 0.0)
    return sorted(tables, key=lambda table: (table.box[1], table.box[0]))


def _with_headings(table: Table, known: Sequence[Table]) -> Table:
    """A ruled table without headings, with those of a parts table whose columns it repeats."""
    if table.top is None or _headed(table) or sum(h is not None for h in table.headings) > 1:
        return table
    rows = (table.top, *table.rows)
    for one in known:
        if one is table or len(one.titles) != len(table.titles):
            continue
        alike = table._replace(titles=one.titles, headings=one.headings, heads=one.heads, rows=rows, top=None)
        if _same_columns(one, table) and _reads(alike):
            return alike
    return table


def _same_columns(one: Table, other: Table) -> bool:
    if not one.edges:
        return True  # unruled there, ruled here: the rows themselves must tell
    shift = other.edges[0] - one.edges[0]
    pairs = zip(one.edges, other.edges, strict=False)
    return len(one.edges) == len(other.edges) and all(abs(b - a - shift) < _SAME_EDGE for a, b in pairs)


def _halves(page: PageLayout, table: Table) -> list[Table]:
    """A ruled table whose left half alone has headings, told apart into two tables."""
    half, odd = divmod(len(table.titles), 2)
    if not table.ruled or odd or half < 2 or any(table.titles[half:]) or not table.edges:
        return [table]
    left = _part(table, 0, half)
    right = _part(table, half, 2 * half)._replace(
        titles=left.titles, headings=left.headings, heads=left.heads
    )
    return [left, right] if _headed(left) and _reads(right) else [table]


def _part(table: Table, begin: int, end: int) -> Table:
    a, b = table.edges[begin], table.edges[end]
    rows = tuple(
        Row(row.cells[begin:end], (a, row.box[1], b, row.box[3]))
        for row in table.rows
        if any(cell.text for cell in row.cells[begin:end])
    )
    box = (a, table.box[1], b, table.box[3])
    return table._replace(
        box=box, titles=table.titles[begin:end], headings=table.headings[begin:end], rows=rows,
        heads=table.heads[begin:end], edges=table.edges[begin : end + 1],
    )  # fmt: skip


def _reads(table: Table) -> bool:
    """Whether most rows of a table are parts by the headings it was given."""
    heads = heads_of_table(table)
    if not is_parts_table(table) or not table.rows:
        return False
    strong = sum(_is_part([cell.text for cell in row.cells], heads) for row in table.rows)
    return strong >= _MOST_ROWS * len(table.rows)


def _is_part(cells: Sequence[str], heads: Heads) -> bool:
    """Whether a row has a name, a count, and an item or a part number where the headings say."""
    name, item, number = (heads.text(role, cells) for role in ("name", "item", "part_number"))
    counts = [cells[i].strip() for i, _ in heads.quantities if i < len(cells) and cells[i].strip()]
    told = bool(_ITEM.fullmatch(item)) if item else any(c.isdigit() for c in number)
    named = sum(c.isalpha() for c in name) >= 2
    return told and named and any(read_quantity(cell).kind != "unsaid" for cell in counts)


class _Shape(NamedTuple):
    """The headings of a table, moved sideways, and which column is what."""

    phrases: list[list[Word]]
    heads: Heads

    def fits(self, row: Sequence[Word], width_pt: float) -> bool:
        """Whether a row of words reads as a part in these columns; a row without a figure does not."""
        if not any(map(str.isdigit, "".join([word.text for word in row]))):
            return False
        gutters = Gutters(self.phrases, max(word.size_pt for word in row) / width_pt)
        if not gutters.take(list(row)):
            return False
        cells = [cell_of(words).text for words in split_at(list(row), gutters.bounds())]
        return _is_part(cells, self.heads)


def _shape(table: Table, shift: float) -> _Shape | None:
    if not all(table.heads):
        return None  # a column without a heading: its place is not known
    moved = [
        [msgspec.structs.replace(word, left=word.left + shift, right=word.right + shift) for word in phrase]
        for phrase in table.heads
    ]
    return _Shape(moved, heads_of_table(table))


def _first(table: Table) -> float:
    """Where the first column of a table begins."""
    lefts = [row.cells[0].left for row in table.rows if row.cells[0].text]
    return min([*lefts, table.heads[0][0].left])


def _second_half(page: PageLayout, table: Table, words: Sequence[Word]) -> float | None:
    """Where a second half begins at the right of a table, if rows stand there that read as its rows do."""
    last = table.heads[-1][0]
    em = last.size_pt / page.width_pt
    right = [w for w in words if w.left > last.left + em and w.bottom > table.box[1]]
    lefts = [phrase[0].left for row in text_rows(right) for phrase in phrases_of(row, page.width_pt)]
    tried: list[float] = []
    for left in sorted(lefts):
        if tried and left - tried[-1] < em:
            continue
        tried.append(left)
        shape = _shape(table, left - _first(table))
        rows = text_rows(w for w in right if w.left >= left - 0.5 * em and w.top < table.box[3] + 2 * em)
        if shape is not None and rows:
            strong = sum(shape.fits(row, page.width_pt) for row in rows)
            if strong >= max(1, _MOST_ROWS * len(rows)):
                return left - 0.5 * em
    return None


def _rows_like(page: PageLayout, table: Table, words: Sequence[Word], shift: float) -> list[Table]:
    """Tables among words that have the columns of another, moved sideways, and no headings of their own."""
    shape = _shape(table, shift)
    if shape is None or not words:
        return []
    em = shape.phrases[0][0].size_pt / page.width_pt
    least = shape.phrases[0][0].left - _LEFT_EM * em
    rows = [part for row in text_rows(words) if (part := [w for w in row if w.left >= least])]
    found: list[Table] = []
    at = 0
    while at < len(rows):
        if not shape.fits(rows[at], page.width_pt):
            at += 1
            continue
        goes_on = not found and table.pdf_page != page.pdf_page
        begin = at - (_rest_above(rows[: at + 1], shape, em) if goes_on else 0)
        block = [_heading_row(shape, rows[begin]), *rows[begin:]]
        made, after = follow(page, block, 0, shape.phrases, table_words())
        going = None if made is None else _renamed(made, table, shape)
        if going is not None and _reads(going._replace(rows=going.rows[at - begin :])):
            found.append(going)
            at = max(begin + after - 1, at)
        at += 1
    return found


def _renamed(made: Table, table: Table, shape: _Shape) -> Table:
    """A table under headings that do not stand there, with the headings they come from."""
    heads = tuple(tuple(phrase) for phrase in shape.phrases)
    box = (made.box[0], made.rows[0].box[1], made.box[2], made.box[3])
    return made._replace(titles=table.titles, headings=table.headings, heads=heads, box=box)


def _rest_above(rows: Sequence[list[Word]], shape: _Shape, em: float) -> int:
    """How many rows right above the last one belong to it: the rest of a row that a page break parted."""
    gutters, last = Gutters(shape.phrases, em), rows[-1]
    count = 0
    for row in reversed(rows[:-1]):
        near = last[0].top - row[0].bottom < 1.2 * (last[0].bottom - last[0].top)
        alike = all(word.size_pt == last[0].size_pt and word.bold is last[0].bold for word in row)
        if not near or not alike or not gutters.take(row):
            break
        count, last = count + 1, row
    return count


def _heading_row(shape: _Shape, row: Sequence[Word]) -> list[Word]:
    """The headings as if they stood right above a row."""
    top, height = min(word.top for word in row), max(word.bottom - word.top for word in row)
    words = [word for phrase in shape.phrases for word in phrase]
    return [
        msgspec.structs.replace(word, top=top - 1.3 * height, bottom=top - 0.3 * height) for word in words
    ]
