"""Pieces of lines into columns and reading order: gutters shared by neighbouring bands."""

import re
from collections.abc import Iterable
from itertools import pairwise
from typing import NamedTuple

from lastbolt.reading.across import rows_of_cells, steps_beside
from lastbolt.reading.beside import read_beside
from lastbolt.words.page import Word

SPLIT_EM = 0.9
"""A gap of more ems than this may be a gutter; whether it is shows when the lines above and below agree."""
_TYPEWRITTEN_EM = 0.55
"""Where words stand this far apart as a rule, the letters are all of one width."""
_OF_A_GAP = 1.9
"""There a gap of so many usual ones may be a gutter."""
_LEAST_GAPS = 20
"""Of fewer gaps nothing is learned."""
MARK = re.compile(
    r"(?:\(?\d{1,3}[A-Za-z]?[.):]?|[A-Za-z][.)]|\([A-Za-z]\)|\(?[ivx]{1,5}[.)]|\d{1,3}(?:[.\-–]\d{1,3}[A-Za-z]?)+\.?|\d{1,2}[A-Z]\d{1,2}|[•·▪‣►▶▸→➔⇒–—■●○◦*o\-◆□✓☐]|[A-Z]{1,2}\d?[.\-]\d{1,3}\.?"
    r"|\[(?:\d{1,3}|[A-Za-z])\]|<\d{1,3}>|#\d{1,3}|\d{1,3}(?:\.\)|[°/–-])|\(?[IVX]{2,5}[.)]|[A-Z]\d{1,2}[.:)]?|[+»>~=]|[①-⑳⓵-⓾❶-❿➀-➓][.):]?)"
)
"""A mark that may stand far from its words."""
MARK_OF_TWO = re.compile(r"[A-Z][a-z]{1,4}\.?\s\d{1,3}[.:)]?")
"""The same in two words: "Op 10"."""


_FEW = 4
"""More lines than these, most of them filled, are a column of text and no headings in the margin."""


class Item(NamedTuple):
    """Words that stand together in one row of a page, with the box around them and the region they lie in."""

    left: float
    top: float
    right: float
    bottom: float
    row: int
    words: tuple[Word, ...]
    region: int


Row = list[Item]


def ordered(items: list[Item], em: float, width_pt: float, depth: int) -> list[list[Row]]:
    """Runs of rows in reading order: where lines one above the other leave a common gutter, the left
    side comes before the right."""
    if not items:
        return []
    runs: list[list[Row]] = []
    for group in _groups(_bands(items), em, width_pt):
        members = [item for band in group for item in band]
        gutter = _inner_gutter(members, _free(members, em), em) if depth < 6 else None
        steps = gutter is not None and steps_beside(members, gutter, may_mark)
        alone = gutter is None or not _stands_beside(members, gutter) or _labels_beside(members, gutter)
        if gutter is None or (not steps and (alone or _words_behind(members, gutter, em))):
            runs.append(_by_row(members))
            continue
        heads = [] if steps else _margin_heads(members, gutter)
        if heads:
            runs.extend(_under_heads(members, heads))
            continue
        middle = (gutter[0] + gutter[1]) / 2
        rows = rows_of_cells(group, gutter, may_mark)
        if rows is not None:
            runs += [run for row in rows for run in ordered(row, em, width_pt, depth + 1)]
            continue
        left, right = [i for i in members if i.right <= middle], [i for i in members if i.right > middle]
        beside = None if steps else read_beside(left, right, may_mark)
        for part in beside or (left, right):
            runs.extend(ordered(part, em, width_pt, depth + 1))
    return runs


def may_mark(word: str) -> bool:
    """Whether a word may be the mark of a step: "1.", "(a)", a bullet, a capital letter alone."""
    return MARK.fullmatch(word) is not None or (word.isalpha() and word.isupper() and len(word) == 1)


def _bands(items: list[Item]) -> list[list[Item]]:
    """Items that overlap vertically belong to one band."""
    bands: list[list[Item]] = []
    bottom = -1.0
    for item in sorted(items, key=lambda i: (i.top, i.left)):
        if bands and item.top < bottom - 0.15 * (item.bottom - item.top):
            bands[-1].append(item)
        else:
            bands.append([item])
        bottom = max(bottom, item.bottom) if len(bands[-1]) > 1 else item.bottom
    return bands


def _groups(bands: list[list[Item]], em: float, width_pt: float) -> list[list[list[Item]]]:
    """Neighbouring bands that share a gutter, or that have none."""
    groups: list[list[list[Item]]] = []
    free: list[tuple[float, float]] = []
    split = False
    members: list[Item] = []
    for band in bands:
        band_free = _free(band, em)
        common = _common(free, band_free, em)
        joined = [*members, *band]
        inner = _inner_gutter(joined, common, em) if groups else None
        alone = _inner_gutter(band, band_free, em) is not None
        fresh = split and _new_heading(members, band, em, width_pt)
        if groups and not fresh and (inner is not None or (not split and not alone)):
            groups[-1].append(band)
            free, members, split = common, joined, inner is not None
        else:
            taken = _trailing(groups[-1], band, em, split=split) if groups and alone else []
            groups.append([*taken, band])
            members = [item for one in groups[-1] for item in one]
            free, split = _free(members, em), alone
    return [group for group in groups if group]


def _trailing(group: list[list[Item]], band: list[Item], em: float, *, split: bool) -> list[list[Item]]:
    """The last bands of the group above that stand wholly in the right column which begins below them."""
    gutter = _inner_gutter(band, _free(band, em), em)
    taken: list[list[Item]] = []
    below = min(item.top for item in band)
    while gutter is not None and group and all(item.left >= gutter[1] - 2 * em for item in group[-1]):
        top, bottom = min(i.top for i in group[-1]), max(i.bottom for i in group[-1])
        above = max((i.bottom for i in group[-2]), default=0.0) if len(group) > 1 else 0.0
        if split and top - above <= below - bottom:
            break
        below = top
        taken.insert(0, group.pop())
    return taken


def _new_heading(members: list[Item], band: list[Item], em: float, width_pt: float) -> bool:
    """Whether a bold or larger line below a picture at the left begins something new over the full width."""
    pictures = [item for item in members if item.region >= 0]
    if len(band) != 1 or band[0].region >= 0 or not pictures:
        return False
    line = band[0]
    least = min(item.left for item in members)
    texts = [item for item in members if item.region < 0 and item.left < least + 2 * em]
    stands_out = all(word.bold for word in line.words) or line.words[-1].size_pt > 1.08 * em * width_pt
    below = all(item.bottom <= line.top + 0.5 * em for item in pictures)
    beside_left = any(item.left < least + 2 * em for item in pictures)
    return line.left < least + 2 * em and stands_out and below and beside_left and len(texts) == 0


def _free(items: Iterable[Item], em: float) -> list[tuple[float, float]]:
    """The parts of the page's width that no item covers and that are wide enough for a gutter."""
    free: list[tuple[float, float]] = []
    right = -1.0
    for item in sorted(items):
        if item.left - right > SPLIT_EM * em:
            free.append((right, item.left))
        right = max(right, item.right)
    free.append((right, 2.0))
    return free


def _common(
    first: list[tuple[float, float]], second: list[tuple[float, float]], em: float
) -> list[tuple[float, float]]:
    found = []
    for a, b in first:
        for c, d in second:
            low, high = max(a, c), min(b, d)
            if high - low > SPLIT_EM * em:
                found.append((low, high))
    return found


def _inner_gutter(
    items: list[Item], free: list[tuple[float, float]], em: float
) -> tuple[float, float] | None:
    """The widest free strip with items on both its sides."""
    if not items:
        return None
    least, most = min(i.left for i in items), max(i.right for i in items)
    inner = [(a, b) for a, b in free if a > least and b < most and b - a > SPLIT_EM * em]
    return max(inner, key=lambda strip: strip[1] - strip[0]) if inner else None


def _stands_beside(items: list[Item], gutter: tuple[float, float]) -> bool:
    """Whether two columns stand there, not just one line with a wide gap in it."""
    if any(item.region >= 0 for item in items):
        return True
    left = {item.row for item in items if item.right <= gutter[0] + 1e-6}
    right = {item.row for item in items if item.left >= gutter[1] - 1e-6}
    return not (len(left) < 2 and left <= right) and not (len(right) < 2 and right <= left)


def _words_behind(items: list[Item], gutter: tuple[float, float], em: float) -> bool:
    """Whether nothing stands at the right but a word or two behind a few of the lines: a time, a number."""
    right = [item for item in items if item.left >= gutter[1] - 1e-6]
    left = [item for item in items if item.right <= gutter[0] + 1e-6]
    rows = {item.row for item in left if item.region < 0}
    few = len(right) * _FEW <= len(rows) and all(item.region < 0 and len(item.words) < 3 for item in right)
    level = few and all(item.row in rows for item in right)
    return level and _inner_gutter(left, _free(left, em), em) is None


def _margin_heads(items: list[Item], gutter: tuple[float, float]) -> list[Item]:
    """The lines at the left, when none stands level with a line at the right: headings out in the margin,
    perhaps with pictures below them. Empty when they are a column of text."""
    left = [item for item in items if item.right <= gutter[0] + 1e-6 and item.region < 0]
    right = [item for item in items if item.left >= gutter[1] - 1e-6 and item.region < 0]
    level = any(
        min(a.bottom, b.bottom) - max(a.top, b.top) > 0.3 * min(a.bottom - a.top, b.bottom - b.top)
        for a in left
        for b in right
    )
    edge = max((item.right for item in left), default=0.0)
    filled = sum(item.right > edge - 0.02 for item in left)
    column = len(left) > _FEW and len(left) > len(right) and filled > 0.5 * len(left)
    return [] if level or column or not right else sorted(left, key=lambda item: item.top)


def _under_heads(items: list[Item], heads: list[Item]) -> list[list[Row]]:
    """Under each heading its pictures, then its lines; before the first what still belongs above it."""
    begins: list[float] = []
    last: Item | None = None
    for head in heads:
        if last is None or head.top - last.bottom > 1.5 * (last.bottom - last.top):
            begins.append(head.top)
        last = head
    runs: list[list[Row]] = []
    for first, after in pairwise([-1.0, *begins, 2.0]):
        band = [item for item in items if first <= item.top + 1e-6 < after]
        mine = [item for item in band if item in heads]
        pictures = [item for item in band if item.region >= 0]
        rest = [item for item in band if item.region < 0 and item not in mine]
        rows = [*_by_row(mine), *_by_row(pictures), *_by_row(rest)]
        runs += [rows] if rows else []
    return runs


def _labels_beside(items: list[Item], gutter: tuple[float, float]) -> bool:
    """Whether the left side holds labels of the lines on the right: narrow, short, and level with them."""
    left = [item for item in items if item.right <= gutter[0] + 1e-6]
    right = [item for item in items if item.left >= gutter[1] - 1e-6]
    if any(item.region >= 0 for item in items) or not left or not right:
        return False
    least, most = min(i.left for i in items), max(i.right for i in items)
    edge = max(i.right for i in left)
    filled = sum(1 for item in left if item.right > edge - 0.02)
    loud = all(word.bold for i in left for word in i.words) and not any(i.words[0].bold for i in right)
    if not loud and (
        gutter[1] - least > 0.45 * (most - least) or (len(left) > 3 and filled > 0.6 * len(left))
    ):
        return False
    rows = {item.row for item in right}
    level = sum(1 for item in left if item.row in rows)
    marked = sum(1 for item in right if MARK.fullmatch(item.words[0].text))
    return level >= 0.8 * len(left) and marked < 0.5 * len(right) and len(left) <= len(rows)


def _by_row(items: list[Item]) -> list[Row]:
    rows: list[Row] = []
    for item in sorted(
        items, key=lambda i: (i.top + i.bottom, i.left) if i.region < 0 else (2 * i.top, i.left)
    ):
        if rows and item.region < 0 and rows[-1][0].row == item.row and rows[-1][0].region < 0:
            rows[-1].append(item)
        else:
            rows.append([item])
    for row in rows:
        row.sort()
    return rows


def spread_of(rows: list[list[Word]], width_pt: float) -> float:
    """How much wider than in common print the words stand apart: above 1 where all letters have one width."""
    gaps = sorted(
        [
            (word.left - before.right) * width_pt / max(before.size_pt, word.size_pt, 1.0)
            for row in rows
            for before, word in pairwise(row)
            if word.left > before.right
        ]
    )
    if len(gaps) < _LEAST_GAPS:
        return 1.0
    usual = gaps[len(gaps) // 2]
    return _OF_A_GAP * usual / SPLIT_EM if usual > _TYPEWRITTEN_EM else 1.0
