"""Tables with level rules only: one above the headings, one below them, one below the last row."""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from lastbolt.reading.gutters import free_strips
from lastbolt.reading.table_shape import (
    Row,
    Table,
    box_around,
    cell_of,
    heading_phrases,
    phrases_of,
    text_rows,
)
from lastbolt.reading.table_words import TableWords
from lastbolt.reading.units import torque_unit
from lastbolt.words.page import Drawn, PageLayout, Word

_NEAR_PT = 3.0
_MOST_HEAD_ROWS = 4
_FREE_EM = 0.35
_LEAST = 2
_LONGEST = 7
"""A heading has at most so many words on one line."""
_ROW_GAP = 2.4


class _Rules(NamedTuple):
    """The level rules of one table from top to bottom, and the short ones between them."""

    left: float
    right: float
    tops: tuple[float, ...]
    short: tuple[Drawn, ...]


def level_tables(page: PageLayout, words: Sequence[Word], language: TableWords) -> list[Table]:
    """The tables between level rules of one length, among some of the page's words."""
    found = []
    for rules in _groups(page):
        mine = [w for w in words if rules.left - 0.01 <= w.left and w.right <= rules.right + 0.01]
        heads = _head_blocks(page, rules, mine, language)
        for number, (at, head) in enumerate(heads):
            end = heads[number + 1][0] if number + 1 < len(heads) else len(rules.tops)
            tops = rules.tops[at + 1 : end]
            last = _last(tops, mine)
            body = text_rows(w for w in mine if tops and tops[0] < (w.top + w.bottom) / 2 < last)
            table = _made(page, rules, head, body, language) if body else None
            if table is not None:
                found.append(table)
    return found


def _head_blocks(
    page: PageLayout, rules: _Rules, words: Sequence[Word], language: TableWords
) -> list[tuple[int, list[list[Word]]]]:
    """Between which rules headings stand: the number of the rule above them, and their rows."""
    found = []
    for at in range(len(rules.tops) - 1):
        first, second = rules.tops[at], rules.tops[at + 1]
        rows = text_rows(w for w in words if first <= (w.top + w.bottom) / 2 <= second)
        head = _lowest(page, rows, rules)
        if head and _known(page, head, language) >= _LEAST:
            found.append((at, head))
    begins = {at for at, _ in found}
    return [(at, head) for at, head in found if at + 1 not in begins]


def _lowest(page: PageLayout, rows: list[list[Word]], rules: _Rules) -> list[list[Word]]:
    """The rows of headings right above a rule; a caption of the table above them is none."""
    head: list[list[Word]] = []
    for row in reversed(rows):
        if head:
            height = head[0][0].bottom - head[0][0].top
            phrases = phrases_of(list(row), page.width_pt)
            caption = len(phrases) == 1 and phrases[0][0].left < rules.left + 0.02
            if caption or head[0][0].top - row[0].bottom > 0.9 * height or len(head) == _MOST_HEAD_ROWS:
                break
        head.insert(0, row)
    return head


def _known(page: PageLayout, head: Sequence[Sequence[Word]], language: TableWords) -> int:
    """How many phrases of the headings mean something; none where they are one, or long as sentences."""
    if any(_holds_values(phrases_of(list(row), page.width_pt)) for row in head):
        return 0
    phrases = [phrase for row in head for phrase in heading_phrases(list(row), page.width_pt, language)]
    if len(phrases) < _LEAST or max(len(phrase) for phrase in phrases) > _LONGEST:
        return 0
    said = [" ".join(word.text for word in phrase) for phrase in phrases]
    return sum(language.heading(one) is not None or _unit(one) for one in said)


def _holds_values(phrases: Sequence[Sequence[Word]]) -> bool:
    """Whether a row has words beside figures, as rows of a table have and headings have not."""
    figures = sum(not any(c.isalpha() for word in phrase for c in word.text) for phrase in phrases)
    return figures > 1 and figures < len(phrases)


def _groups(page: PageLayout) -> list[_Rules]:
    """Level rules of one length one below the other; with upright lines they are left to the grids."""
    near_x, near_y = _NEAR_PT / page.width_pt, _NEAR_PT / page.height_pt
    lines = [d for d in page.drawn if d.kind == "rule"]
    level = sorted(
        (d for d in lines if d.bottom - d.top <= near_y and d.right - d.left > 12 * near_x),
        key=lambda d: d.top,
    )
    upright = [d for d in lines if d.right - d.left <= near_x and d.bottom - d.top > 2 * near_y]
    groups: list[list[Drawn]] = []
    for rule in level:
        for group in groups:
            if abs(group[0].left - rule.left) <= near_x and abs(group[0].right - rule.right) <= near_x:
                group.append(rule)
                break
        else:
            groups.append([rule])
    made = []
    for group in groups:
        left, right, top, bottom = group[0].left, group[0].right, group[0].top, group[-1].bottom
        crossed = any(
            left - near_x <= u.left <= right + near_x and u.top < bottom and u.bottom > top for u in upright
        )
        if len(group) < _LEAST or crossed:
            continue
        short = [d for d in level if d not in group and d.left >= left - near_x and d.right <= right + near_x]
        tops = [rule.top for rule in group]
        tops = [a for i, a in enumerate(tops) if i == 0 or a - tops[i - 1] > near_y]
        made.append(_Rules(left, right, tuple(tops), tuple(short)))
    return made


def _last(tops: Sequence[float], words: Sequence[Word]) -> float:
    """The last rule of the table: behind it nothing stands, or something far off."""
    last = tops[0] if tops else 0.0
    size: float | None = None
    for top in tops[1:]:
        rows = text_rows(w for w in words if last < (w.top + w.bottom) / 2 < top)
        heights = [row[0].bottom - row[0].top for row in rows]
        if not rows or rows[0][0].top - last > (_ROW_GAP if size is None else 1.0) * heights[0]:
            break
        largest = max(word.size_pt for row in rows for word in row)
        if size is not None and largest > 1.1 * size:
            break  # a heading: what stands between the rules is no row of the table
        size = max(size or 0.0, largest)
        gaps = [b[0].top - a[0].bottom for a, b in pairwise(rows)]
        if any(gap > _ROW_GAP * height for gap, height in zip(gaps, heights, strict=False)):
            break
        last = top
    return last


def _made(
    page: PageLayout, rules: _Rules, head: list[list[Word]], body: list[list[Word]], language: TableWords
) -> Table | None:
    em = max(word.size_pt for row in body for word in row) / page.width_pt
    bounds = _bounds(page, body, em)
    if not bounds:
        return None
    columns = _columns(body, bounds, rules)
    bounds, columns = _with_empty(bounds, columns, head, em, page)
    heads = _heads(page, head, columns, rules, language)
    bare = _loose(body, bounds, heads, em)
    if bare:
        bounds = [bound for at, bound in enumerate(bounds) if at + 1 not in bare]
        heads = [cell for at, cell in enumerate(heads) if at not in bare]
        columns = [column for at, column in enumerate(columns) if at not in bare]
    titles = tuple(cell_of(cell).text for cell in heads)
    headings = tuple(language.heading(title) for title in titles)
    known = sum(h is not None or _unit(title) for h, title in zip(headings, titles, strict=True))
    if known < _LEAST or known < len(titles) - known:
        return None
    rows = []
    for line in body:
        cells: list[list[Word]] = [[] for _ in columns]
        for word in line:
            cells[sum((word.left + word.right) / 2 > bound for bound in bounds)].append(word)
        rows.append(Row(tuple(cell_of(cell) for cell in cells), box_around(line)))
    box = box_around([word for row in (*head, *body) for word in row])
    ordered = tuple(tuple(sorted(cell, key=lambda w: w.left)) for cell in heads)
    return Table(page.pdf_page, box, False, titles, headings, tuple(rows), ordered)


def _loose(
    body: Sequence[Sequence[Word]], bounds: Sequence[float], heads: Sequence[Sequence[Word]], em: float
) -> set[int]:
    """Columns without a heading that are the ends of the cells at their left: words only, or never alone and
    close behind them ("M6 x" "45")."""
    found = set()
    for at, head in enumerate(heads):
        if head or not at:
            continue
        first, low, high = (*bounds[at - 2 : at - 1], -1.0)[0], bounds[at - 1], (*bounds[at : at + 1], 2.0)[0]
        mine = [[w for w in row if low < (w.left + w.right) / 2 <= high] for row in body]
        left = [[w for w in row if first < (w.left + w.right) / 2 <= low] for row in body]
        letters = not any(c.isdigit() for row in mine for w in row for c in w.text)
        gaps = [
            one[0].left - (other[-1].right if other else -1.0)
            for one, other in zip(mine, left, strict=True)
            if one
        ]
        if letters or max(gaps, default=0.0) < em:
            found.add(at)
    return found


def _unit(title: str) -> bool:
    return any(torque_unit(word.strip("()[],;:")) is not None for word in title.split())


def _bounds(page: PageLayout, body: Sequence[Sequence[Word]], em: float) -> list[float]:
    """Where columns part: strips that stay free in all rows that have more than one phrase."""
    rows = [row for row in body if len(phrases_of(list(row), page.width_pt)) > 1] or list(body)
    return free_strips(rows, em)


def _columns(
    body: Sequence[Sequence[Word]], bounds: Sequence[float], rules: _Rules
) -> list[tuple[float, float]]:
    """From where to where the words of each column reach."""
    edges = [rules.left, *bounds, rules.right]
    found = []
    for low, high in pairwise(edges):
        inside = [w for row in body for w in row if low <= (w.left + w.right) / 2 <= high]
        found.append(
            (min((w.left for w in inside), default=low), max((w.right for w in inside), default=high))
        )
    return found


def _with_empty(
    bounds: list[float],
    columns: list[tuple[float, float]],
    head: Sequence[Sequence[Word]],
    em: float,
    page: PageLayout,
) -> tuple[list[float], list[tuple[float, float]]]:
    """The columns with those that have a heading and no cell in any row ("Remarks")."""
    taken = list(columns)
    for row in head:
        for phrase in phrases_of(list(row), page.width_pt):
            left, right = phrase[0].left, phrase[-1].right
            if all(right < low - _FREE_EM * em or left > high + _FREE_EM * em for low, high in taken):
                taken.append((left, right))
    taken.sort()
    return [(a[1] + b[0]) / 2 for a, b in pairwise(taken)], taken


def _heads(
    page: PageLayout,
    head: Sequence[Sequence[Word]],
    columns: Sequence[tuple[float, float]],
    rules: _Rules,
    language: TableWords,
) -> list[list[Word]]:
    """The words of each column's heading; one over several columns, or over a short rule, in each of them."""
    cells: list[list[Word]] = [[] for _ in columns]
    for row in head:
        for phrase in heading_phrases(list(row), page.width_pt, language):
            under = _under(phrase, columns, rules)
            if len(under) > 1 and _by_word(phrase, columns):
                for word in phrase:
                    cells[_nearest(word.left, word.right, columns)].append(word)
                continue
            for at in under:
                cells[at] += phrase
    return cells


def _under(phrase: Sequence[Word], columns: Sequence[tuple[float, float]], rules: _Rules) -> list[int]:
    left, right, bottom = phrase[0].left, phrase[-1].right, phrase[0].bottom
    height = bottom - phrase[0].top
    for short in rules.short:
        near = -0.3 * height <= short.top - bottom <= 1.2 * height
        if near and short.left - 0.01 <= left and right <= short.right + 0.01:
            return [
                i
                for i, (a, b) in enumerate(columns)
                if short.left - 0.01 <= (a + b) / 2 <= short.right + 0.01
            ]
    over = [i for i, (a, b) in enumerate(columns) if min(b, right) - max(a, left) > 0]
    return over or [_nearest(left, right, columns)]


def _by_word(phrase: Sequence[Word], columns: Sequence[tuple[float, float]]) -> bool:
    """Whether headings set close together were taken for one phrase: each has words of its own column."""
    over = [[i for i, (a, b) in enumerate(columns) if min(b, w.right) - max(a, w.left) > 0] for w in phrase]
    return all(len(one) <= 1 for one in over) and len({i for one in over for i in one}) > 1


def _nearest(left: float, right: float, columns: Sequence[tuple[float, float]]) -> int:
    middle = (left + right) / 2
    return min(range(len(columns)), key=lambda i: max(columns[i][0] - middle, middle - columns[i][1], 0.0))
