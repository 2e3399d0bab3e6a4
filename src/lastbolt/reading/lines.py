"""Words of one page into lines, and the lines into reading order by columns."""

import itertools
from bisect import bisect_left, bisect_right
from collections.abc import Container, Iterable
from operator import attrgetter
from typing import NamedTuple

from lastbolt.reading.across import heads_across, heads_at_edge, order_of
from lastbolt.reading.cells import cell_by_cell, frames_of_cells
from lastbolt.reading.columns import MARK, MARK_OF_TWO, SPLIT_EM, Item, Row, may_mark, ordered, spread_of
from lastbolt.reading.hanging import hanging_marks
from lastbolt.reading.page_gutter import page_gutter
from lastbolt.words.citation import Box
from lastbolt.words.page import Drawn, PageLayout, Word

MARK_EM = 6.0


_LEFT = attrgetter("left")
_LONGEST_CALLOUT = 5
_OF_A_BAR_EM = 3.0
"""A bar that holds one line is not higher."""
_MOST_COLUMNS = 6


class Line(NamedTuple):
    """One line of text in reading order. A tab stands for a wide gap; `lead`: how many characters at its
    start are bold (or slope, or are underlined, where the rest does not); `column` tells apart what stands
    side by side; `region` is "", "table" or "figure"."""

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
    italic: bool = False
    """Whether its words slope (a signal word or a mark before them aside)."""
    underlined: bool = False

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


def lines_of(page: PageLayout, regions: Iterable[Region] = ()) -> list[Line]:
    """All lines of the page in reading order; the words of a region stand together, row by row."""
    places = list(regions)
    inside: list[list[Word]] = [[] for _ in places]
    outside: list[Word] = []
    for word in page.words:
        index = _region_of(word, places) if places else -1
        (outside if index < 0 else inside[index]).append(word)
    rights = _reclaim(inside, outside, places, page.width_pt) if places else []
    rows = _rows(outside)
    spread = spread_of(rows, page.width_pt)
    blocks = []
    for index, words in enumerate(inside):
        if words:
            left, top, _, bottom = places[index].box
            blocks.append(Item(left, top, rights[index], bottom, -1, tuple(words), index))
    em = _typical_size(outside) / max(page.width_pt, 1.0)
    frames = _frames(page.drawn, places)
    found: list[Line] = []
    cells = frames_of_cells(page.drawn)
    bars = tuple(
        one for one in frames if one[3] - one[1] < _OF_A_BAR_EM * em * page.width_pt / page.height_pt
    )
    parts = _parts(rows, blocks, Measures(page.width_pt, em, spread, bars))
    parts = [cell for items in parts for cell in cell_by_cell(items, cells)] if cells else parts
    runs = [run for items in parts for run in ordered(items, em, page.width_pt, 0)]
    for column, run in enumerate(runs):
        for row in run:
            if row[0].region >= 0:
                found.extend(_region_lines(row[0], places, column, page.width_pt))
            else:
                found.append(_line(row, column, em * spread, frames))
    return found


class Measures(NamedTuple):
    """What is known of a page before it is read: its width, the usual size of its letters, how far its words
    stand apart, and its bars."""

    width_pt: float
    em: float
    spread: float
    bars: tuple[Box, ...] = ()
    """Drawn bars that hold one line: what stands in one fills its whole width."""
    heads: tuple[Box, ...] = ()
    """Where headings stand over columns that begin below each."""


def _parts(rows: list[list[Word]], blocks: list[Item], of: Measures, depth: int = 0) -> list[list[Item]]:
    """The pieces of lines of each column of a page of columns: level is only what stands in one column."""
    items = _over_bars(_segments(rows, of.width_pt, of.spread), of.bars, of.heads) + blocks
    gutter = page_gutter(items, of.em, may_mark) if depth < _MOST_COLUMNS else None
    if gutter is not None and depth == 0:
        order = order_of(items, gutter.right - of.em, of.em, of.width_pt, may_mark)
        if order != "columns":
            find = heads_at_edge if order else heads_across
            most = max(item.right for item in items)
            heads = [items[at]._replace(right=most) for at in find(items, of.em, of.width_pt)]
            of = of._replace(heads=tuple((one.left, one.top, one.right, one.bottom) for one in heads))
            items = _over_bars(items, (), of.heads)
            gutter = page_gutter(items, of.em, may_mark) if order != "rows" else None
    if gutter is None:
        return [items] if items else []
    places: dict[str, tuple[list[Word], list[Item]]] = {}
    for word in (word for row in rows for word in row):
        places.setdefault(gutter.side(word), ([], []))[0].append(word)
    for block in blocks:
        places.setdefault(gutter.side(block), ([], []))[1].append(block)
    sides = (places[side] for side in ("above", "left", "right", "below") if side in places)
    return [part for one, two in sides for part in _parts(_rows(one), two, of, depth + 1)]


def _over_bars(items: list[Item], bars: tuple[Box, ...], heads: tuple[Box, ...]) -> list[Item]:
    """The only line of a bar (a heading over a tint) made as wide as the bar, and so of each heading: no
    column passes through it."""
    for number, (left, top, right, bottom) in enumerate((*bars, *heads)):
        inside = [
            at for at, item in enumerate(items)
            if top <= (item.top + item.bottom) / 2 <= bottom
            and left - 1e-6 <= item.left and item.right <= right + 1e-6
        ]  # fmt: skip
        loud = len(inside) == 1 and all(word.bold for word in items[inside[0]].words)
        if loud or (len(inside) == 1 and number >= len(bars)):
            items[inside[0]] = items[inside[0]]._replace(left=left, right=right)
    return items


def _region_of(word: Word, places: list[Region]) -> int:
    x, y = (word.left + word.right) / 2, (word.top + word.bottom) / 2
    for index, region in enumerate(places):
        left, top, right, bottom = region.box
        if left <= x <= right and top <= y <= bottom:
            return index
    if len(word.text) > _LONGEST_CALLOUT:
        return -1
    return next((i for i, region in enumerate(places) if region.callouts and _is_callout(word, region)), -1)


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
        high, low = word.top, word.bottom
        height, known = low - high, bottom - top
        shared = (low if low < bottom else bottom) - (high if high > top else top)
        if rows and shared >= 0.5 * (height if height < known else known):
            rows[-1].append(word)
            if height > 1.3 * known:
                top, bottom = max(top, high), max(bottom, low)
        else:
            rows.append([word])
            top, bottom = high, low
    for row in rows:
        row.sort(key=_LEFT)
    return rows


def _segments(rows: list[list[Word]], width_pt: float, spread: float) -> list[Item]:
    """Rows cut at wide gaps; a step mark or a heading's number stays with the words behind it."""
    items: list[Item] = []
    split = SPLIT_EM * spread
    hanging = hanging_marks(rows, width_pt, split, MARK_EM)
    for number, row in enumerate(rows):
        current = [row[0]]
        for word in row[1:]:
            before = current[-1]
            size, other = before.size_pt, word.size_pt
            em = (size if size > other else other) / width_pt
            gap = word.left - before.right
            if gap <= split * em or _is_mark(current, gap <= MARK_EM * em, hanging):
                current.append(word)
            else:
                items.append(_item(current, number))
                current = [word]
        items.append(_item(current, number))
    return items


def _is_mark(words: list[Word], near: bool, hanging: Container[int]) -> bool:
    """Whether the first words of a row belong to what stands far behind them."""
    return (near and len(words) < 3 and _marks(words)) or (len(words) == 1 and id(words[0]) in hanging)


def _marks(words: list[Word]) -> bool:
    """Whether the first words of a row look like the mark of a step, or like the number of a heading."""
    if len(words) == 1:
        return MARK.fullmatch(words[0].text) is not None
    return (
        words[1].text[:1].isdigit() and MARK_OF_TWO.fullmatch(f"{words[0].text} {words[1].text}") is not None
    )


def _item(words: list[Word], row: int) -> Item:
    if len(words) == 1:
        word = words[0]
        return Item(word.left, word.top, word.right, word.bottom, row, (word,), -1)
    return Item(
        words[0].left,
        min([word.top for word in words]),
        max([word.right for word in words]),
        max([word.bottom for word in words]),
        row,
        tuple(words),
        -1,
    )


def _line(row: Row, column: int, em: float, frames: list[Box], region: str = "", place: int = 0) -> Line:
    """One row as a line, with a tab where the gap is wide."""
    words = [word for item in row for word in item.words]
    parts, gap = [words[0].text], SPLIT_EM * max(em, 1e-6)
    sloping = words[0].italic and not (words[0].bold or words[-1].italic)
    lead, leading = (len(words[0].text), True) if words[0].bold or sloping else (0, False)
    for before, word in itertools.pairwise(words):
        parts += ("\t" if word.left - before.right > gap else " ", word.text)
        leading = leading and (word.italic if sloping else word.bold)
        if leading:
            lead += len(word.text) + 1
    left, top = words[0].left, min([word.top for word in words])
    right, bottom = max([word.right for word in words]), max([word.bottom for word in words])
    size = max(word.size_pt for word in words) if len(words) < 3 else _typical_size(words)
    bold = all(word.bold for word in words)
    boxed = _frame_of((left + right) / 2, (top + bottom) / 2, frames) if frames else 0
    slopes = words[-1].italic and 2 * sum([word.italic for word in words]) >= len(words)
    return Line(
        "".join(parts), left, top, right, bottom, size, bold, lead, len(words), column, region, place, boxed,
        slopes,
    )  # fmt: skip


def _region_lines(item: Item, places: list[Region], column: int, width_pt: float) -> list[Line]:
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
