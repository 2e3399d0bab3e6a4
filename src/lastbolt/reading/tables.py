"""Tables on a page, ruled or not: headings, rows and cells with their boxes."""

import re
from collections.abc import Sequence
from itertools import pairwise

from msgspec.structs import replace

from lastbolt.reading.columns import spread_of
from lastbolt.reading.grid import grids_of
from lastbolt.reading.gutters import Gutters
from lastbolt.reading.leaders import without_leaders
from lastbolt.reading.level_tables import level_tables
from lastbolt.reading.numbers import LETTERED
from lastbolt.reading.parts_contents import NUMBER
from lastbolt.reading.ruled_tables import ruled_table
from lastbolt.reading.table_shape import (
    EMPTY_CELL,
    Cell,
    Row,
    Table,
    box_around,
    cell_of,
    heading_phrases,
    inside,
    phrases_of,
    split_at,
    text_rows,
)
from lastbolt.reading.table_words import Heading, TableWords, table_words
from lastbolt.words.citation import Box
from lastbolt.words.page import PageLayout, Word

__all__ = (
    "EMPTY_CELL", "Cell", "Row", "Table", "box_around", "cell_of", "follow", "inside", "phrases_of",
    "split_at", "tables_on", "text_rows", "unruled",
)  # fmt: skip

_SECTION_NUMBER = re.compile(r"\d{1,3}(?:[.\-–]\d{1,3})+[A-Za-z]?\.?|" + LETTERED)
_STEP_MARK = re.compile(r"\(\d{1,3}\)|\d{1,3}[.)]|\([a-z]\)|[a-z][.)]")
_LEAST_HEADINGS = 2
_LEAST_SENTENCE = 5
"""So many words with a point behind them are no heading."""
_VALUES = frozenset(("limit", "torque"))
"""Columns of these beside one another are the values of one thing."""
_WIDEST_SPREAD = 2.7
"""Words that stand further apart are cells: on a page that is one table most gaps part columns."""
_ROW_GAP = 2.4
"""A gap of more line heights than this ends an unruled table."""


def tables_on(page: PageLayout, language: TableWords | None = None) -> list[Table]:
    """The page's tables from top to bottom."""
    words = language or table_words()
    page = replace(page, words=without_leaders(page.words))
    found = []
    used: list[Box] = []
    for grid in grids_of(page):
        table = ruled_table(page, grid, words)
        if table is not None:
            found.append(table)
            used.append(table.box)
    free = _outside(page.words, used)
    level = level_tables(page, free, words)
    found += level
    found += unruled(page, _outside(free, [table.box for table in level]), words)
    halves = [half for table in found for half in _side_by_side(table)]
    return sorted(halves, key=lambda table: (table.box[1], table.box[0]))


def _outside(words: Sequence[Word], boxes: Sequence[Box]) -> list[Word]:
    """The words that stand in none of the boxes."""
    return [word for word in words if not any(inside(word, box) for box in boxes)] if boxes else list(words)


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


def unruled(page: PageLayout, words: list[Word], language: TableWords) -> list[Table]:
    """The tables that headings alone tell, among some of the page's words."""
    rows = text_rows(words)
    spread = spread_of(rows, page.width_pt)
    spread = spread if spread < _WIDEST_SPREAD else 1.0
    found: list[Table] = []
    at = 0
    while at < len(rows):
        may_head = sum([language.may_head(word.text) for word in rows[at]]) >= _LEAST_HEADINGS
        phrases = heading_phrases(rows[at], page.width_pt, language, spread) if may_head else []
        phrases, right = _before_rows(phrases, page)
        meant = [
            None if _is_sentence(phrase) else language.heading(" ".join(w.text for w in phrase))
            for phrase in phrases
        ]
        if not _heads_a_table(meant):
            at += 1
            continue
        phrases = _with_names(phrases, meant, rows[at + 1 : at + 2], page)
        table, at = follow(page, rows, at, phrases, language, right)
        if table is not None:
            found.append(table)
    return found


def _is_sentence(phrase: Sequence[Word]) -> bool:
    """Whether words are a step or end a sentence: another column's signal word may stand beside them."""
    marked = len(phrase) > 2 and _STEP_MARK.fullmatch(phrase[0].text) is not None
    return marked or (len(phrase) >= _LEAST_SENTENCE and phrase[-1].text.endswith("."))


def _heads_a_table(meant: Sequence[Heading | None]) -> bool:
    """Whether a row of phrases is one of headings: two meanings, or two columns of values beside a name."""
    known = [heading for heading in meant if heading is not None]
    roles = {heading.role for heading in known}
    if len(roles) == 1 and roles <= _VALUES and len(known) > 1:
        return len(meant) - len(known) <= 1
    return len(roles) >= _LEAST_HEADINGS and len(meant) - len(known) <= len(roles)


def _before_rows(phrases: list[list[Word]], page: PageLayout) -> tuple[list[list[Word]], float]:
    """The headings without the first row of a second half beside them; and where that half begins."""
    for at, phrase in enumerate(phrases):
        if any(NUMBER.fullmatch(word.text) for word in phrase):
            first = at - 1 if at and phrases[at - 1][0].text.strip("().").isdecimal() else at
            if first >= _LEAST_HEADINGS:
                begin = phrases[first][0]
                return phrases[:first], begin.left - 0.5 * begin.size_pt / page.width_pt
            break
    return phrases, 0.0


def _with_names(
    phrases: list[list[Word]], meant: Sequence[Heading | None], below: Sequence[list[Word]], page: PageLayout
) -> list[list[Word]]:
    """The headings with an empty one before them, where all are of values and names stand at their left."""
    if not below or any(one is None or one.role not in _VALUES for one in meant):
        return phrases
    first, head = below[0][0], phrases[0][0]
    if first.right >= head.left - head.size_pt / page.width_pt or not any(c.isalpha() for c in first.text):
        return phrases
    return [[replace(head, text="", left=first.left, right=first.left)], *phrases]


def follow(
    page: PageLayout,
    rows: list[list[Word]],
    at: int,
    phrases: list[list[Word]],
    language: TableWords,
    end: float = 0.0,
) -> tuple[Table | None, int]:
    """The table below a row of headings, and the row after it; `end`: its right end, if known."""
    em = max(word.size_pt for word in rows[at]) / page.width_pt
    gutters = Gutters(phrases, em)
    left = phrases[0][0].left - 3 * em
    right = 1.01 if phrases[-1][-1].right > 0.6 else phrases[-1][-1].right + 14 * em
    right = end or right
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
    body = _above_last_rule(page, rows[at], _without_callouts(body), len(phrases))
    if not body:
        return None, at + 1
    next_at = rows.index(next(row for row in reversed(rows) if body[-1][0] in row)) + 1
    bounds = gutters.bounds()
    made = [Row(tuple(cell_of(cell) for cell in split_at(row, bounds)), box_around(row)) for row in body]
    titles = [" ".join(w.text for w in phrase) for phrase in phrases]
    made, titles = _second_heading_row(made, titles, language)
    headings = tuple(language.heading(title) for title in titles)
    mine = [word for row in (rows[at], *body) for word in row if word.left >= left]
    box = box_around([word for word in mine if not end or word.right <= end])
    heads_at = tuple(tuple(phrase) for phrase in phrases)
    return Table(page.pdf_page, box, False, tuple(titles), headings, tuple(made), heads_at), next_at


def _without_callouts(body: list[list[Word]]) -> list[list[Word]]:
    """The rows without the last ones that are figures alone, under rows with words: callouts of a drawing."""
    lettered = [at for at, row in enumerate(body) if any(c.isalpha() for word in row for c in word.text)]
    if 2 * len(lettered) < len(body):
        return body
    kept = body[: lettered[-1] + 1] if lettered else body
    rest = body[len(kept) :]
    pitch = min((b[0].top - a[0].top for a, b in pairwise(kept)), default=0.0)
    near = bool(rest) and rest[0][0].top - kept[-1][0].top < 1.4 * pitch
    return body if near and len(rest) == 1 else kept


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
