"""Tables that are ruled both ways: the words of each cell, headings over several columns, stripes."""

from bisect import bisect_right
from collections.abc import Sequence

from lastbolt.reading.grid import Grid
from lastbolt.reading.table_shape import EMPTY_CELL, Cell, Row, Table, box_around, cell_of, inside, text_rows
from lastbolt.reading.table_words import Heading, TableWords
from lastbolt.words.page import PageLayout, Word

_LEAST_HEADINGS = 2
_ROW_GAP = 1.6
"""A row below a table of stripes stands at most this many line heights under the row before."""

Bins = list[list[Word]]
"""The words of one row by its columns."""


def ruled_table(page: PageLayout, grid: Grid, language: TableWords) -> Table | None:
    """The table in a grid, or None where hardly any cell has words."""
    bins = _bins(page, grid)
    columns = len(grid.xs) - 1
    if sum(1 for row in bins for cell in row if cell) < 0.3 * columns * len(bins):
        return None
    rows: list[Row] = []
    filled: list[tuple[int, Bins]] = []
    for number, row in enumerate(bins):
        if any(row):
            box = (grid.xs[0], grid.ys[number], grid.xs[-1], grid.ys[number + 1])
            rows.append(Row(tuple(cell_of(cell) for cell in row), box))
            filled.append((number, row))
    at, _ = _headings_in(rows, language)
    cells = _spread(rows[at].cells, grid, filled[at][0]) if len(rows) > 1 else rows[at].cells
    last = at
    if at + 1 < len(rows) and _is_second(cells, rows[at + 1].cells, language):
        below = rows[at + 1].cells
        cells = tuple(_both(one, other) for one, other in zip(cells, below, strict=True))
        last += 1
    titles = tuple(cell.text for cell in cells)
    headings = tuple(language.heading(title) for title in titles)
    box = (grid.xs[0], grid.ys[0], grid.xs[-1], grid.ys[-1])
    heads = tuple(tuple(sorted(cell, key=lambda w: w.left)) for cell in filled[at][1])
    more = _rows_below(page, grid) if grid.boxes else []
    body = (*rows[last + 1 :], *more)
    if more:
        box = (box[0], box[1], box[2], more[-1].box[3])
    above = " ".join(cell.text for row in rows[:at] for cell in row.cells if cell.text)
    return Table(page.pdf_page, box, True, titles, headings, body, heads, grid.xs, rows[at], above=above)


def _bins(page: PageLayout, grid: Grid) -> list[Bins]:
    """The words of the page by rows and columns of a grid; a heading over several columns in each of them."""
    columns = len(grid.xs) - 1
    bins: list[Bins] = [[[] for _ in range(columns)] for _ in range(len(grid.ys) - 1)]
    for word in page.words:
        x, y = (word.left + word.right) / 2, (word.top + word.bottom) / 2
        place = grid.place_of(x, y)
        if place is None:
            continue
        row, column = place
        for over in _columns_under(x, y, row, grid) or (column,):
            bins[row][over].append(word)
    return bins


def _columns_under(x: float, y: float, row: int, grid: Grid) -> Sequence[int]:
    """The columns that a word above a rule over some columns heads; none where it stands elsewhere."""
    for at, low, high in grid.part:
        if grid.ys[row] < at < grid.ys[row + 1] and y < at and low <= x <= high:
            return _joined_at(x, y, grid)
    return ()


def _joined_at(x: float, y: float, grid: Grid) -> Sequence[int]:
    """The columns beside one another at a height, as far as no line parts them there."""
    first = last = min(max(bisect_right(grid.xs, x) - 1, 0), len(grid.xs) - 2)
    while first > 0 and not any(a <= y <= b for a, b in grid.drawn[first]):
        first -= 1
    while last < len(grid.xs) - 2 and not any(a <= y <= b for a, b in grid.drawn[last + 1]):
        last += 1
    return range(first, last + 1)


def _spread(cells: Sequence[Cell], grid: Grid, row: int) -> tuple[Cell, ...]:
    """A row of headings where a cell over several columns heads each of them."""
    middle = (grid.ys[row] + grid.ys[row + 1]) / 2
    made: list[Cell] = []
    for at, cell in enumerate(cells):
        open_left = at > 0 and not any(a <= middle <= b for a, b in grid.drawn[at])
        made.append(made[-1] if open_left and not cell.text else cell)
    return tuple(made)


def _is_second(cells: Sequence[Cell], below: Sequence[Cell], language: TableWords) -> bool:
    """Whether a row is a second one of headings: it stands under headings over several columns."""
    said = [at for at, cell in enumerate(below) if cell.text]
    if len(said) < _LEAST_HEADINGS:
        return False
    spans = [at for at in said if at > 0 and cells[at].text and cells[at].text == cells[at - 1].text]
    if not spans:
        return False
    under = {at for at in said if cells[at].text in {cells[one].text for one in spans}}
    rest = [at for at in said if at not in under]
    return all(not cells[at].text or language.heading(f"{cells[at].text} {below[at].text}") for at in rest)


def _both(one: Cell, other: Cell) -> Cell:
    if not one.text or not other.text:
        return one if one.text else other
    return Cell(f"{one.text} {other.text}", min(one.left, other.left), one.bold and other.bold)


def _rows_below(page: PageLayout, grid: Grid) -> list[Row]:
    """The rows that go on below a table made of tinted boxes: of stripes every second one has no box."""
    left, right = grid.xs[0] - 0.003, grid.xs[-1] + 0.003
    words = [w for w in page.words if left <= w.left and w.right <= right and w.top >= grid.ys[-1] - 0.002]
    found: list[Row] = []
    bottom = grid.ys[-1]
    for line in text_rows(words):
        height = max(word.bottom - word.top for word in line)
        cells = _cells_at(line, grid.xs)
        if cells is None or line[0].top - bottom > _ROW_GAP * height or _wider(page, line, (left, right)):
            break
        if sum(bool(cell.text) for cell in cells) < min(2, len(cells)):
            break
        found.append(Row(cells, box_around(line)))
        bottom = max(word.bottom for word in line)
    return found


def _cells_at(line: Sequence[Word], xs: Sequence[float]) -> tuple[Cell, ...] | None:
    """A line as cells between column edges, or None where a word crosses one."""
    cells: Bins = [[] for _ in range(len(xs) - 1)]
    for word in line:
        column = min(bisect_right(xs, word.left) - 1, len(cells) - 1)
        if column < 0 or word.right > xs[column + 1] + 0.002:
            return None
        cells[column].append(word)
    return tuple(cell_of(cell) if cell else EMPTY_CELL for cell in cells)


def _wider(page: PageLayout, line: Sequence[Word], ends: tuple[float, float]) -> bool:
    """Whether a line goes on beside the table."""
    _, top, _, bottom = box_around(line)
    middle = (top + bottom) / 2
    near = 2.0 * line[0].size_pt / page.width_pt
    sides = ((ends[0] - near, top, ends[0], bottom), (ends[1], top, ends[1] + near, bottom))
    return any(w.top < middle < w.bottom and any(inside(w, side) for side in sides) for w in page.words)


def _headings_in(rows: Sequence[Row], language: TableWords) -> tuple[int, tuple[Heading | None, ...]]:
    """The row of headings among the first three (the one with most known cells), and what it means."""
    best, best_at, count = tuple(language.heading(c.text) for c in rows[0].cells), 0, 0
    count = sum(h is not None for h in best)
    for at in range(1, min(3, len(rows))):
        meant = tuple(language.heading(cell.text) for cell in rows[at].cells)
        known = sum(h is not None for h in meant)
        if known > count and known >= _LEAST_HEADINGS:
            best, best_at, count = meant, at, known
    return best_at, best
