"""Tables on a page, ruled or not: headings, rows and cells with their boxes."""

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from lastbolt.reading.columns import spread_of
from lastbolt.reading.grid import Grid, grids_of
from lastbolt.reading.numbers import LETTERED
from lastbolt.reading.table_words import Heading, TableWords, table_words
from lastbolt.words.citation import Box
from lastbolt.words.page import PageLayout, Word

_SECTION_NUMBER = re.compile(r"\d{1,3}(?:[.\-–]\d{1,3})+[A-Za-z]?\.?|" + LETTERED)
_STEP_MARK = re.compile(r"\(\d{1,3}\)|\d{1,3}[.)]|\([a-z]\)|[a-z][.)]")
_LEAST_HEADINGS = 2
_WIDEST_SPREAD = 2.7
"""Words that stand further apart are cells: on a page that is one table most gaps part columns."""
_ROW_GAP = 2.4
"""A gap of more line heights than this ends an unruled table."""


class Cell(NamedTuple):
    """The words in one cell; `left` is where they begin."""

    text: str
    left: float
    bold: bool


class Row(NamedTuple):
    """One row of cells, as many as the table has columns."""

    cells: tuple[Cell, ...]
    box: Box


class Table(NamedTuple):
    """A table. `headings` holds one entry per column, None where the words mean nothing to us."""

    pdf_page: int
    box: Box
    ruled: bool
    titles: tuple[str, ...]
    headings: tuple[Heading | None, ...]
    rows: tuple[Row, ...]
    heads: tuple[tuple[Word, ...], ...] = ()
    """The words of each heading where they stand on the page."""
    edges: tuple[float, ...] = ()
    """Where the columns of a ruled table begin and end."""
    top: Row | None = None
    """The row that was taken for the headings of a ruled table."""

    def column(self, role: str) -> int | None:
        """The first column of that role."""
        return next((i for i, h in enumerate(self.headings) if h is not None and h.role == role), None)


EMPTY_CELL = Cell("", 0.0, False)


def tables_on(page: PageLayout, language: TableWords | None = None) -> list[Table]:
    """The page's tables from top to bottom."""
    words = language or table_words()
    found = []
    used: list[Box] = []
    for grid in grids_of(page):
        table = _ruled(page, grid, words)
        if table is not None:
            found.append(table)
            used.append(table.box)
    free = [word for word in page.words if not any(inside(word, box) for box in used)]
    found += unruled(page, free, words)
    halves = [half for table in found for half in _side_by_side(table)]
    return sorted(halves, key=lambda table: (table.box[1], table.box[0]))


def _side_by_side(table: Table) -> list[Table]:
    """Two lists with one row of headings between them, told apart: their headings come twice."""
    half, odd = divmod(len(table.titles), 2)
    if odd or half < _LEAST_HEADINGS or table.titles[:half] != table.titles[half:]:
        return [table]
    lefts = [row.cells[half].left for row in table.rows if row.cells[half].text]
    if not lefts:
        return [table]
    left, top, right, bottom = table.box
    middle = min(lefts) - 0.002
    parts = []
    for begin, end, a, b in ((0, half, left, middle), (half, 2 * half, middle, right)):
        rows = tuple(
            Row(row.cells[begin:end], (a, row.box[1], b, row.box[3]))
            for row in table.rows
            if any(cell.text for cell in row.cells[begin:end])
        )
        parts.append(
            table._replace(
                box=(a, top, b, bottom),
                titles=table.titles[begin:end],
                headings=table.headings[begin:end],
                rows=rows,
                heads=table.heads[begin:end],
                edges=table.edges[begin : end + 1],
            )
        )
    return parts


def inside(word: Word, box: Box) -> bool:
    """Whether the word's middle lies in the box."""
    x, y = (word.left + word.right) / 2, (word.top + word.bottom) / 2
    return box[0] <= x <= box[2] and box[1] <= y <= box[3]


def text_rows(words: Iterable[Word]) -> list[list[Word]]:
    """Words that stand on one line, from top to bottom, each from left to right."""
    rows: list[list[Word]] = []
    middle = height = 0.0
    for word in sorted(words, key=lambda w: w.top + w.bottom):
        centre = (word.top + word.bottom) / 2
        if rows and centre - middle < 0.4 * max(height, word.bottom - word.top):
            rows[-1].append(word)
        else:
            rows.append([word])
            middle, height = centre, word.bottom - word.top
    for row in rows:
        row.sort(key=lambda w: w.left)
    return rows


def box_around(words: Sequence[Word]) -> Box:
    """The box around the words."""
    return (
        min(w.left for w in words),
        min(w.top for w in words),
        max(w.right for w in words),
        max(w.bottom for w in words),
    )


def cell_of(words: list[Word]) -> Cell:
    """The words of one cell as text, line by line."""
    if not words:
        return EMPTY_CELL
    lines = text_rows(words) if len(words) > 1 else [words]
    text = " ".join(word.text for line in lines for word in line)
    return Cell(text, min(w.left for w in words), all(w.bold for w in words))


def _ruled(page: PageLayout, grid: Grid, language: TableWords) -> Table | None:
    columns = len(grid.xs) - 1
    bins: list[list[list[Word]]] = [[[] for _ in range(columns)] for _ in range(len(grid.ys) - 1)]
    for word in page.words:
        place = grid.place_of((word.left + word.right) / 2, (word.top + word.bottom) / 2)
        if place is not None:
            bins[place[0]][place[1]].append(word)
    if sum(1 for row in bins for cell in row if cell) < 0.3 * columns * len(bins):
        return None
    rows: list[Row] = []
    for number, row in enumerate(bins):
        if any(row):
            box = (grid.xs[0], grid.ys[number], grid.xs[-1], grid.ys[number + 1])
            rows.append(Row(tuple(cell_of(cell) for cell in row), box))
    at, headings = _headings_in(rows, language)
    titles = tuple(cell.text for cell in rows[at].cells)
    box = (grid.xs[0], grid.ys[0], grid.xs[-1], grid.ys[-1])
    filled = [row for row in bins if any(row)]
    heads = tuple(tuple(sorted(cell, key=lambda w: w.left)) for cell in filled[at])
    below = tuple(rows[at + 1 :])
    return Table(page.pdf_page, box, True, titles, headings, below, heads, grid.xs, rows[at])


def _headings_in(rows: list[Row], language: TableWords) -> tuple[int, tuple[Heading | None, ...]]:
    """The row of headings among the first three (the one with most known cells), and what it means."""
    best, best_at, count = tuple(language.heading(c.text) for c in rows[0].cells), 0, 0
    count = sum(h is not None for h in best)
    for at in range(1, min(3, len(rows))):
        meant = tuple(language.heading(cell.text) for cell in rows[at].cells)
        known = sum(h is not None for h in meant)
        if known > count and known >= _LEAST_HEADINGS:
            best, best_at, count = meant, at, known
    return best_at, best


def unruled(page: PageLayout, words: list[Word], language: TableWords) -> list[Table]:
    """The tables that headings alone tell, among some of the page's words."""
    rows = text_rows(words)
    spread = spread_of(rows, page.width_pt)
    spread = spread if spread < _WIDEST_SPREAD else 1.0
    found: list[Table] = []
    at = 0
    while at < len(rows):
        phrases = phrases_of(rows[at], page.width_pt, spread)
        phrases = [part for phrase in phrases for part in _parted(phrase, language)]
        meant = [language.heading(" ".join(w.text for w in phrase)) for phrase in phrases]
        roles = {heading.role for heading in meant if heading is not None}
        if len(roles) < _LEAST_HEADINGS or len(phrases) - sum(h is not None for h in meant) > len(roles):
            at += 1
            continue
        table, at = follow(page, rows, at, phrases, language)
        if table is not None:
            found.append(table)
    return found


def phrases_of(row: list[Word], width_pt: float, spread: float = 1.0) -> list[list[Word]]:
    """The row cut where the gap is wider than a space."""
    phrases = [[row[0]]]
    for word in row[1:]:
        last = phrases[-1][-1]
        if (word.left - last.right) * width_pt > 0.75 * spread * max(word.size_pt, last.size_pt):
            phrases.append([word])
        else:
            phrases[-1].append(word)
    return phrases


def _parted(phrase: list[Word], language: TableWords) -> list[list[Word]]:
    """Headings set close together, told apart by their words: "Item Part no." is two."""
    parts: list[list[Word]] = []
    at = 0
    while at < len(phrase):
        for length in range(min(4, len(phrase) - at), 0, -1):
            part = phrase[at : at + length]
            heading = language.heading(" ".join(word.text for word in part))
            if heading is not None and (not heading.rest or _with_unit(heading)):
                parts.append(part)
                at += length
                break
        else:
            return [phrase]
    return parts


def _with_unit(heading: Heading) -> bool:
    """Whether what stands behind the known words can be a unit: "Torque, lb-ft"."""
    return heading.role in ("torque", "limit") and len(heading.rest.split()) == 1


class Gutters:
    """The free strips between neighbouring headings, narrowed by each row that is taken in."""

    def __init__(self, phrases: list[list[Word]], em: float) -> None:
        self.em = em
        middles = [(p[0].left + p[-1].right) / 2 for p in phrases]
        self.strips = [[(a, b)] for a, b in pairwise(middles)]
        self.take([word for phrase in phrases for word in phrase])

    def after(self, row: list[Word]) -> list[list[tuple[float, float]]] | None:
        """The strips with the row's words cut out, or None when one would be closed."""
        narrowed = []
        for strip in self.strips:
            pieces = strip
            for word in row:
                pieces = [piece for free in pieces for piece in _cut(free, word.left, word.right)]
            pieces = [piece for piece in pieces if piece[1] - piece[0] > 0.35 * self.em]
            if not pieces:
                return None
            narrowed.append(pieces)
        return narrowed

    def take(self, row: list[Word]) -> bool:
        narrowed = self.after(row)
        if narrowed is None:
            return False
        self.strips = narrowed
        return True

    def bounds(self) -> list[float]:
        """The middle of the widest strip of each pair."""
        widest = [max(strip, key=lambda piece: piece[1] - piece[0]) for strip in self.strips]
        return [(a + b) / 2 for a, b in widest]


def _cut(free: tuple[float, float], left: float, right: float) -> list[tuple[float, float]]:
    a, b = free
    if right <= a or left >= b:
        return [free]
    return [piece for piece in ((a, left), (right, b)) if piece[1] > piece[0]]


def follow(
    page: PageLayout, rows: list[list[Word]], at: int, phrases: list[list[Word]], language: TableWords
) -> tuple[Table | None, int]:
    """The table below a row of headings, and the row after it."""
    em = max(word.size_pt for word in rows[at]) / page.width_pt
    gutters = Gutters(phrases, em)
    left = phrases[0][0].left - 3 * em
    right = 1.01 if phrases[-1][-1].right > 0.6 else phrases[-1][-1].right + 14 * em
    body: list[list[Word]] = []
    last, heads = rows[at], [word.text for word in rows[at]]
    next_at = at + 1
    for row in rows[at + 1 :]:
        part = [word for word in row if word.left >= left and word.right <= right]
        height = last[0].bottom - last[0].top
        if [word.text for word in row] == heads:
            break  # the next table of this shape
        if body and part and (_heads_a_section(part, body) or _is_larger(part, body)):
            break
        if part and part[0].top - last[0].bottom > _ROW_GAP * height:
            break
        if part and not gutters.take(part):
            break
        next_at += 1
        if part:
            body.append(part)
            last = part
    body = _above_last_rule(page, rows[at], body, len(phrases))
    if not body:
        return None, at + 1
    next_at = rows.index(next(row for row in reversed(rows) if body[-1][0] in row)) + 1
    bounds = gutters.bounds()
    made = [Row(tuple(cell_of(cell) for cell in split_at(row, bounds)), box_around(row)) for row in body]
    titles = [" ".join(w.text for w in phrase) for phrase in phrases]
    made, titles = _second_heading_row(made, titles, language)
    headings = tuple(language.heading(title) for title in titles)
    box = box_around([word for row in (rows[at], *body) for word in row if word.left >= left])
    heads_at = tuple(tuple(phrase) for phrase in phrases)
    return Table(page.pdf_page, box, False, tuple(titles), headings, tuple(made), heads_at), next_at


def _heads_a_section(row: list[Word], body: list[list[Word]]) -> bool:
    """Whether a row is the next section's heading, or a step: its number comes first, no row before had one,
    and it stands further off than the rows from each other."""
    marks = (_SECTION_NUMBER, _STEP_MARK)
    numbered = [any(mark.fullmatch(other[0].text) for mark in marks) for other in (row, *body)]
    if not numbered[0] or any(numbered[1:]) or len(body) < _LEAST_HEADINGS:
        return False
    pitch = min(after[0].top - before[0].top for before, after in pairwise(body))
    return row[0].top - body[-1][0].top > 1.4 * pitch


def _is_larger(row: list[Word], body: list[list[Word]]) -> bool:
    """Whether a row is printed clearly larger than the rows before it: a heading."""
    largest = max(word.size_pt for other in body for word in other)
    return min(word.size_pt for word in row) > 1.12 * largest


def _above_last_rule(
    page: PageLayout, head: list[Word], body: list[list[Word]], columns: int
) -> list[list[Word]]:
    """The rows down to the lowest long rule among them, and those below that fill half of the columns."""
    if not body:
        return body
    headed = len(body) > 1 and not any(c.isdigit() for word in body[0] for c in word.text)
    top = body[1] if headed and 2 * len(body[0]) < columns else body[0]  # not a second line of headings
    first, last = top[0].bottom, body[-1][0].bottom
    width = head[-1].right - head[0].left
    rules = [
        shape.top
        for shape in page.drawn
        if shape.kind == "rule"
        and shape.right - shape.left >= 0.8 * width
        and shape.left <= head[0].left + 0.02
        and first - 0.003 <= shape.top <= last
    ]
    if not rules:
        return body
    kept = []
    for row in body:
        if row[0].top >= max(rules) and 2 * len(phrases_of(row, page.width_pt)) < columns:
            break
        kept.append(row)
    return kept


def split_at(row: list[Word], bounds: list[float]) -> list[list[Word]]:
    """The words of a row by the columns that their middles stand in."""
    cells: list[list[Word]] = [[] for _ in range(len(bounds) + 1)]
    for word in row:
        middle = (word.left + word.right) / 2
        cells[sum(middle > bound for bound in bounds)].append(word)
    return cells


def _second_heading_row(
    rows: list[Row], titles: list[str], language: TableWords
) -> tuple[list[Row], list[str]]:
    """Take a second line of headings ("Part" over "number") into the titles."""
    first = rows[0].cells
    if any(any(c.isdigit() for c in cell.text) for cell in first) or not any(c.text for c in first):
        return rows, titles
    joined = [f"{title} {cell.text}".strip() for title, cell in zip(titles, first, strict=True)]
    if all(language.heading(new) for new, cell in zip(joined, first, strict=True) if cell.text):
        return rows[1:], joined
    return rows, titles
