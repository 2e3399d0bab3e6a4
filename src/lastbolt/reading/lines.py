"""Words of one page into lines, and the lines into reading order by columns."""

import itertools
import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from typing import NamedTuple

from lastbolt.words.citation import Box
from lastbolt.words.page import Drawn, PageLayout, Word

SPLIT_EM = 0.9
"""A gap of more ems than this may be a gutter; whether it is shows when the lines above and below agree."""
MARK_EM = 6.0
MARK = re.compile(
    r"(?:\(?\d{1,3}[A-Za-z]?[.):]?|[A-Za-z][.)]|\([A-Za-z]\)|\(?[ivx]{1,5}[.)]|\d{1,3}(?:[.\-–]\d{1,3}[A-Za-z]?)+\.?|[•·▪‣►▶▸→➔⇒–—■●○◦*o\-◆□✓☐]|[A-Z]{1,2}\d?[.\-]\d{1,3}\.?)"
)


class Line(NamedTuple):
    """One line of text in reading order. A tab stands for a wide gap; `lead`: how many characters at its
    start are bold; `column` tells apart what stands side by side; `region` is "", "table" or "figure"."""

    text: str
    left: float
    top: float
    right: float
    bottom: float
    size_pt: float
    bold: bool
    lead: int
    words: int
    column: int = 0
    region: str = ""
    place: int = 0
    """Which region of the page (index), where it stands in one."""
    boxed: int = 0
    """Which drawn box it stands in, 0 for none."""

    @property
    def box(self) -> Box:
        """Its box as a citation box."""
        return (round(self.left, 4), round(self.top, 4), round(self.right, 4), round(self.bottom, 4))


class Region(NamedTuple):
    """A part of the page that another reader explains: a table or a figure."""

    kind: str
    box: Box
    callouts: tuple[Box, ...] = ()
    """Numbers that belong to it wherever they stand."""


class _Item(NamedTuple):
    left: float
    top: float
    right: float
    bottom: float
    row: int
    words: tuple[Word, ...]
    region: int


def lines_of(page: PageLayout, regions: Iterable[Region] = ()) -> list[Line]:
    """All lines of the page in reading order; the words of a region stand together, row by row."""
    places = list(regions)
    inside: list[list[Word]] = [[] for _ in places]
    outside: list[Word] = []
    for word in page.words:
        index = _region_of(word, places) if places else -1
        (outside if index < 0 else inside[index]).append(word)
    rights = _reclaim(inside, outside, places, page.width_pt) if places else []
    items = _segments(outside, page.width_pt)
    for index, words in enumerate(inside):
        if words:
            left, top, _, bottom = places[index].box
            items.append(_Item(left, top, rights[index], bottom, -1, tuple(words), index))
    em = _typical_size(outside) / max(page.width_pt, 1.0)
    frames = _frames(page.drawn, places)
    found: list[Line] = []
    for column, run in enumerate(_ordered(items, em, page.width_pt, 0)):
        for row in run:
            if row[0].region >= 0:
                found.extend(_region_lines(row[0], places, column, page.width_pt))
            else:
                found.append(_line(row, column, em, frames))
    return found


def _region_of(word: Word, places: list[Region]) -> int:
    x, y = (word.left + word.right) / 2, (word.top + word.bottom) / 2
    for index, region in enumerate(places):
        left, top, right, bottom = region.box
        if left <= x <= right and top <= y <= bottom:
            return index
    return next((i for i, region in enumerate(places) if _is_callout(word, region)), -1)


def _is_callout(word: Word, region: Region) -> bool:
    x, y = (word.left + word.right) / 2, (word.top + word.bottom) / 2
    return any(left <= x <= right and top <= y <= bottom for left, top, right, bottom in region.callouts)


def _reclaim(
    inside: list[list[Word]], outside: list[Word], places: list[Region], width_pt: float
) -> list[float]:
    """Words of a figure's region that run on, in one line, into text outside it, belong to that text; what
    comes back is where each region then ends at the right."""
    lefts = sorted(word.left for word in outside)
    rights = [region.box[2] for region in places]
    for index, region in enumerate(places):
        if not inside[index]:
            continue
        right = region.box[2]
        near = [
            w
            for w in outside
            if w.left < right + 0.1
            and w.right > right
            and region.box[1] - 0.02 < w.top < region.box[3] + 0.02
        ]
        if not near:
            continue
        kept: list[Word] = []
        for word in sorted(inside[index], key=lambda w: -w.left):
            if _is_callout(word, region):
                kept.append(word)
                continue
            middle, em = (word.top + word.bottom) / 2, word.size_pt / width_pt
            beside = [w for w in near if w.top < middle < w.bottom and w.left >= word.right - 0.2 * em]
            gap = min((w.left - word.right for w in beside), default=1.0)
            mark = (
                region.kind == "figure"
                and gap < MARK_EM * em
                and MARK.fullmatch(word.text)
                and (not word.text.isdigit() or _aligned(word.left, lefts))
            )
            if gap < SPLIT_EM * em or mark:
                near.append(word)
                outside.append(word)
                rights[index] = min(rights[index], word.left - em)
            else:
                kept.append(word)
        inside[index] = kept
    return rights


def _aligned(left: float, lefts: list[float]) -> bool:
    """Whether several words outside begin at the same place."""
    return bisect_right(lefts, left + 0.003) - bisect_left(lefts, left - 0.003) >= 2


def _typical_size(words: list[Word]) -> float:
    sizes = sorted(word.size_pt for word in words)
    return sizes[len(sizes) // 2] if sizes else 10.0


def _rows(words: Iterable[Word]) -> list[list[Word]]:
    """Words that stand on one line, whatever the gap between them."""
    rows: list[list[Word]] = []
    top = bottom = -1.0
    for word in sorted(words, key=lambda w: (w.top + w.bottom, w.left)):
        height = word.bottom - word.top
        shared = min(bottom, word.bottom) - max(top, word.top)
        if rows and shared >= 0.5 * min(height, bottom - top):
            rows[-1].append(word)
            if height > 1.3 * (bottom - top):
                top, bottom = max(top, word.top), max(bottom, word.bottom)
        else:
            rows.append([word])
            top, bottom = word.top, word.bottom
    for row in rows:
        row.sort(key=lambda w: w.left)
    return rows


def _segments(words: list[Word], width_pt: float) -> list[_Item]:
    """Rows cut at wide gaps; a step mark or a heading's number stays with the words behind it."""
    items: list[_Item] = []
    for number, row in enumerate(_rows(words)):
        current = [row[0]]
        for word in row[1:]:
            before = current[-1]
            em = max(before.size_pt, word.size_pt) / width_pt
            gap = word.left - before.right
            is_mark = len(current) == 1 and gap <= MARK_EM * em and MARK.fullmatch(before.text) is not None
            if gap > SPLIT_EM * em and not is_mark:
                items.append(_item(current, number))
                current = [word]
            else:
                current.append(word)
        items.append(_item(current, number))
    return items


def _item(words: list[Word], row: int) -> _Item:
    return _Item(
        words[0].left,
        min(word.top for word in words),
        max(word.right for word in words),
        max(word.bottom for word in words),
        row,
        tuple(words),
        -1,
    )


Row = list[_Item]


def _ordered(items: list[_Item], em: float, width_pt: float, depth: int) -> list[list[Row]]:
    """Runs of rows in reading order: where lines one above the other leave a common gutter, the left
    side comes before the right."""
    if not items:
        return []
    runs: list[list[Row]] = []
    for group in _groups(_bands(items), em, width_pt):
        members = [item for band in group for item in band]
        gutter = _inner_gutter(members, _free(members, em), em) if depth < 6 else None
        if gutter is None or not _stands_beside(members, gutter) or _labels_beside(members, gutter):
            runs.append(_by_row(members))
            continue
        middle = (gutter[0] + gutter[1]) / 2
        runs.extend(_ordered([i for i in members if i.right <= middle], em, width_pt, depth + 1))
        runs.extend(_ordered([i for i in members if i.right > middle], em, width_pt, depth + 1))
    return runs


def _bands(items: list[_Item]) -> list[list[_Item]]:
    """Items that overlap vertically belong to one band."""
    bands: list[list[_Item]] = []
    bottom = -1.0
    for item in sorted(items, key=lambda i: (i.top, i.left)):
        if bands and item.top < bottom - 0.15 * (item.bottom - item.top):
            bands[-1].append(item)
        else:
            bands.append([item])
        bottom = max(bottom, item.bottom) if len(bands[-1]) > 1 else item.bottom
    return bands


def _groups(bands: list[list[_Item]], em: float, width_pt: float) -> list[list[list[_Item]]]:
    """Neighbouring bands that share a gutter, or that have none."""
    groups: list[list[list[_Item]]] = []
    free: list[tuple[float, float]] = []
    split = False
    members: list[_Item] = []
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


def _trailing(group: list[list[_Item]], band: list[_Item], em: float, *, split: bool) -> list[list[_Item]]:
    """The last bands of the group above that stand wholly in the right column which begins below them."""
    gutter = _inner_gutter(band, _free(band, em), em)
    taken: list[list[_Item]] = []
    below = min(item.top for item in band)
    while gutter is not None and group and all(item.left >= gutter[1] - 2 * em for item in group[-1]):
        top, bottom = min(i.top for i in group[-1]), max(i.bottom for i in group[-1])
        above = max((i.bottom for i in group[-2]), default=0.0) if len(group) > 1 else 0.0
        if split and top - above <= below - bottom:
            break
        below = top
        taken.insert(0, group.pop())
    return taken


def _new_heading(members: list[_Item], band: list[_Item], em: float, width_pt: float) -> bool:
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


def _free(items: Iterable[_Item], em: float) -> list[tuple[float, float]]:
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
    items: list[_Item], free: list[tuple[float, float]], em: float
) -> tuple[float, float] | None:
    """The widest free strip with items on both its sides."""
    if not items:
        return None
    least, most = min(i.left for i in items), max(i.right for i in items)
    inner = [(a, b) for a, b in free if a > least and b < most and b - a > SPLIT_EM * em]
    return max(inner, key=lambda strip: strip[1] - strip[0]) if inner else None


def _stands_beside(items: list[_Item], gutter: tuple[float, float]) -> bool:
    """Whether two columns stand there, not just one line with a wide gap in it."""
    if any(item.region >= 0 for item in items):
        return True
    left = {item.row for item in items if item.right <= gutter[0] + 1e-6}
    right = {item.row for item in items if item.left >= gutter[1] - 1e-6}
    return not (len(left) < 2 and left <= right) and not (len(right) < 2 and right <= left)


def _labels_beside(items: list[_Item], gutter: tuple[float, float]) -> bool:
    """Whether the left side holds labels of the lines on the right: narrow, short, and level with them."""
    left = [item for item in items if item.right <= gutter[0] + 1e-6]
    right = [item for item in items if item.left >= gutter[1] - 1e-6]
    if any(item.region >= 0 for item in items) or not left or not right:
        return False
    width = max(i.right for i in items) - min(i.left for i in items)
    if max(i.right for i in left) - min(i.left for i in left) > 0.4 * width:
        return False
    rows = {item.row for item in right}
    level = sum(1 for item in left if item.row in rows)
    marked = sum(1 for item in right if MARK.fullmatch(item.words[0].text))
    return level >= 0.8 * len(left) and marked < 0.5 * len(right) and len(left) <= len(rows)


def _by_row(items: list[_Item]) -> list[Row]:
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


def _line(row: Row, column: int, em: float, frames: list[Box], region: str = "", place: int = 0) -> Line:
    """One row as a line, with a tab where the gap is wide."""
    words = [word for item in row for word in item.words]
    parts = [words[0].text]
    lead, leading = (len(words[0].text), True) if words[0].bold else (0, False)
    for before, word in itertools.pairwise(words):
        wide = word.left - before.right > SPLIT_EM * max(em, 1e-6)
        parts.append(("\t" if wide else " ") + word.text)
        leading = leading and word.bold
        if leading:
            lead += len(word.text) + 1
    left, top = words[0].left, min(word.top for word in words)
    right, bottom = max(word.right for word in words), max(word.bottom for word in words)
    size = max(word.size_pt for word in words) if len(words) < 3 else _typical_size(words)
    bold = all(word.bold for word in words)
    boxed = _frame_of((left + right) / 2, (top + bottom) / 2, frames) if frames else 0
    return Line(
        "".join(parts), left, top, right, bottom, size, bold, lead, len(words), column, region, place, boxed
    )


def _region_lines(item: _Item, places: list[Region], column: int, width_pt: float) -> list[Line]:
    kind = places[item.region].kind
    lines = []
    for row in _rows(item.words):
        em = max(word.size_pt for word in row) / width_pt
        lines.append(_line([_item(row, 0)], column, em, [], kind, item.region))
    return lines


def _frames(drawn: tuple[Drawn, ...], places: list[Region]) -> list[Box]:
    """Drawn boxes that can frame text: neither tiny nor the whole page nor part of a table or figure."""
    frames: list[Box] = []
    for shape in drawn:
        if shape.kind != "box":
            continue
        width, height = shape.right - shape.left, shape.bottom - shape.top
        if width < 0.12 or height < 0.015 or width * height > 0.6:
            continue
        x, y = (shape.left + shape.right) / 2, (shape.top + shape.bottom) / 2
        if any(r.box[0] <= x <= r.box[2] and r.box[1] <= y <= r.box[3] for r in places):
            continue
        frames.append((shape.left, shape.top, shape.right, shape.bottom))
        if len(frames) >= 60:
            break
    return sorted(frames, key=lambda f: (f[2] - f[0]) * (f[3] - f[1]))


def _frame_of(x: float, y: float, frames: list[Box]) -> int:
    for index, (left, top, right, bottom) in enumerate(frames, start=1):
        if left <= x <= right and top <= y <= bottom:
            return index
    return 0
