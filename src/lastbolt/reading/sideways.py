"""Words that do not run from left to right: a whole page is turned, words in a table's cells go back to it,
everything else is read in its own direction and told."""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import cos, radians, sin
from typing import NamedTuple

import msgspec

from lastbolt.reading.grid import grids_of
from lastbolt.words.citation import Box
from lastbolt.words.page import Aside, Drawn, PageLayout, Turned, Word

_WHOLE = 0.6
"""So many of a page's words turned one way: the page itself is turned."""
_LEAST_WORDS = 12
_APART_EM = 2.5
"""A wider gap along the line begins another run."""
_LINE_EM = 1.9
"""A wider step from line to line begins another run."""


class Straight(NamedTuple):
    """A page whose words all run from left to right, by how much it was turned for that, and the rest."""

    page: PageLayout
    turn: int
    asides: tuple[Aside, ...]


def straightened(page: PageLayout) -> Straight:
    """The page as a reader holds it."""
    if not page.turned:
        return Straight(page, 0, ())
    turn = _turn_of(page)
    if turn:
        page = _turned(page, turn)
    page = _with_cells(page)
    asides = tuple(run for turned in page.turned for run in _runs(turned, page))
    if turn:  # heads and feet of a page whose contents are turned
        asides = tuple(run for run in asides if not _at_the_edge(run, page))
    return Straight(msgspec.structs.replace(page, turned=()), turn, asides)


def turned_box(box: Box, angle: int) -> Box:
    """A box on a page that is turned back by so many degrees clockwise (90, 180, 270)."""
    (x1, y1), (x2, y2) = _turned_point(box[0], box[1], angle), _turned_point(box[2], box[3], angle)
    return min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)


def _turned_point(x: float, y: float, angle: int) -> tuple[float, float]:
    return {90: (y, 1 - x), 180: (1 - x, 1 - y), 270: (1 - y, x)}.get(angle, (x, y))


def _turn_of(page: PageLayout) -> int:
    """The angle at which nearly all words of the page stand; 0 for none."""
    every = len(page.words) + sum(len(turned.words) for turned in page.turned)
    for turned in page.turned:
        count = len(turned.words)
        if turned.angle in (90, 180, 270) and count >= max(_LEAST_WORDS, _WHOLE * every):
            return turned.angle
    return 0


def _turned(page: PageLayout, angle: int) -> PageLayout:
    def word(one: Word) -> Word:
        left, top, right, bottom = turned_box((one.left, one.top, one.right, one.bottom), angle)
        return msgspec.structs.replace(one, left=left, top=top, right=right, bottom=bottom)

    def shape(one: Drawn) -> Drawn:
        return Drawn(one.kind, *turned_box((one.left, one.top, one.right, one.bottom), angle))

    level = tuple(word(one) for turned in page.turned if turned.angle == angle for one in turned.words)
    others = [
        Turned((turned.angle - angle) % 360, tuple(word(one) for one in turned.words))
        for turned in page.turned
        if turned.angle != angle
    ]
    if page.words:
        others.append(Turned((360 - angle) % 360, tuple(word(one) for one in page.words)))
    across = angle in (90, 270)
    return msgspec.structs.replace(
        page,
        words=level,
        turned=tuple(others),
        drawn=tuple(shape(one) for one in page.drawn),
        width_pt=page.height_pt if across else page.width_pt,
        height_pt=page.width_pt if across else page.height_pt,
        notes=tuple(msgspec.structs.replace(note, box=turned_box(note.box, angle)) for note in page.notes),
    )


def _with_cells(page: PageLayout) -> PageLayout:
    """The page with turned words in the cells of a ruled table among its words, each cell's as one."""
    grids = grids_of(page) if page.turned else []
    if not grids:
        return page
    words, kept = list(page.words), []
    for turned in page.turned:
        cells: dict[tuple[int, int, int], list[Word]] = {}
        outside: list[Word] = []
        for word in turned.words:
            x, y = (word.left + word.right) / 2, (word.top + word.bottom) / 2
            places = ((n, grid.place_of(x, y)) for n, grid in enumerate(grids))
            place = next(((n, *at) for n, at in places if at is not None), None)
            (outside if place is None else cells.setdefault(place, [])).append(word)
        for found in cells.values():
            lines = _lines(found, turned.angle, page)
            said = " ".join(word.text for line in lines for word in line)
            box = _around(found)
            words.append(Word(said, *box, found[0].size_pt, found[0].bold, found[0].italic))
        if outside:
            kept.append(Turned(turned.angle, tuple(outside)))
    return msgspec.structs.replace(page, words=tuple(words), turned=tuple(kept))


def _lines(words: Iterable[Word], angle: int, page: PageLayout) -> list[list[Word]]:
    """Words of one direction as lines, first line first, each in its own reading direction."""
    placed = sorted((_along(word, angle, page)[1], n, word) for n, word in enumerate(words))
    lines: list[list[Word]] = []
    last = 0.0
    for across, _, word in placed:
        if lines and across - last < 0.5 * word.size_pt:
            lines[-1].append(word)
        else:
            lines.append([word])
            last = across
    for line in lines:
        line.sort(key=lambda word: _along(word, angle, page)[0])
    return lines


def _along(word: Word, angle: int, page: PageLayout) -> tuple[float, float]:
    """Where a word's middle stands along its direction and across it, in points."""
    x = (word.left + word.right) / 2 * page.width_pt
    y = (word.top + word.bottom) / 2 * page.height_pt
    turn = radians(angle)
    return x * cos(turn) + y * sin(turn), y * cos(turn) - x * sin(turn)


def _span(word: Word, angle: int, page: PageLayout) -> tuple[float, float]:
    """Where a word begins and ends along its direction, in points."""
    middle = _along(word, angle, page)[0]
    wide = (word.right - word.left) * page.width_pt * abs(cos(radians(angle)))
    high = (word.bottom - word.top) * page.height_pt * abs(sin(radians(angle)))
    half = (wide + high) / 2 if angle % 90 == 0 else max(wide, high) / 2
    return middle - half, middle + half


def _runs(turned: Turned, page: PageLayout) -> list[Aside]:
    """The blocks of lines that words of one direction make."""
    pieces: list[list[Word]] = []
    for line in _lines(turned.words, turned.angle, page):
        piece = [line[0]]
        for before, word in pairwise(line):
            gap = _span(word, turned.angle, page)[0] - _span(before, turned.angle, page)[1]
            if gap > _APART_EM * max(before.size_pt, word.size_pt):
                pieces.append(piece)
                piece = []
            piece.append(word)
        pieces.append(piece)
    blocks: list[list[list[Word]]] = []
    for piece in pieces:
        block = next((one for one in blocks if _follows(one[-1], piece, turned.angle, page)), None)
        if block is None:
            blocks.append([piece])
        else:
            block.append(piece)
    return [
        Aside(
            "sideways",
            " ".join(word.text for piece in block for word in piece),
            _around([word for piece in block for word in piece]),
        )
        for block in blocks
    ]


def _follows(last: Sequence[Word], piece: Sequence[Word], angle: int, page: PageLayout) -> bool:
    step = _along(piece[0], angle, page)[1] - _along(last[0], angle, page)[1]
    if not 0 < step < _LINE_EM * max(last[0].size_pt, piece[0].size_pt):
        return False
    begin, end = _span(last[0], angle, page)[0], _span(last[-1], angle, page)[1]
    return _span(piece[0], angle, page)[0] < end and begin < _span(piece[-1], angle, page)[1]


def _around(words: Sequence[Word]) -> Box:
    return (
        min(word.left for word in words),
        min(word.top for word in words),
        max(word.right for word in words),
        max(word.bottom for word in words),
    )


def _at_the_edge(run: Aside, page: PageLayout) -> bool:
    """Whether a run stands in one line at the edge of a turned page: its running head or foot."""
    left, top, right, bottom = run.box
    near = 0.12
    thin = min((right - left) * page.width_pt, (bottom - top) * page.height_pt) < 30
    edge = right < near or left > 1 - near or bottom < near or top > 1 - near
    return thin and edge
