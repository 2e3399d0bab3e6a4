"""A text without pages set as pages, one for each chapter, so that the rules for printed manuals read it.

Where a line of the text came to stand is kept, so that every citation leads back to the text's own line.
"""

import textwrap
from bisect import bisect_right
from collections.abc import Iterable, Sequence

from msgspec import Struct

from lastbolt.words.page import Drawn, PageLayout, Word
from lastbolt.words.written import Block, Cells, Run, Writing

_WIDE_PT = 595.0
_LEFT_PT = 60.0
_TEXT_PT = 475.0
_SIZE_PT = 10.0
_PITCH_PT = 13.0
_HEADINGS_PT = (18.0, 15.0, 13.0, 12.0, 11.5, 11.0)
_INDENT_PT = 20.0
_LETTER = 0.5
"""How wide a letter is set, in its size; of lines kept as they stand 0.6 (a fixed pitch)."""
_FIXED = 0.6
_SPACE = 0.28
_MARGIN = 0.14
"""Of the page's height left empty at both ends: running heads stand there in print, and a text has none."""
_MOST_LINES = 220
"""A longer chapter goes on on a further page."""
_MOST_COLUMNS = 60


class Spot(Struct, frozen=True):
    """From this height of a page on stands this line of the text, under this heading."""

    top: float
    line: int
    under: str = ""


class Part(Struct, frozen=True):
    """One page made of a text: what stands on it and where its lines came from; `title`: its chapter."""

    page: PageLayout
    spots: tuple[Spot, ...]
    title: str = ""

    def at(self, top: float) -> Spot:
        """What stands at this height."""
        index = bisect_right([spot.top for spot in self.spots], top + 1e-4) - 1
        return self.spots[max(index, 0)] if self.spots else Spot(0.0, 1)


def parts_of(writing: Writing) -> list[Part]:
    """The pages of a text: a new one at each heading of the chapters' level."""
    level = _chapter_level(writing.blocks)
    parts: list[Part] = []
    setter = _Setter(len(parts) + 1, "")
    for block in writing.blocks:
        chapter = block.sort == "heading" and block.level <= level
        if setter.lines and (chapter or (setter.lines > _MOST_LINES and block.sort != "verbatim")):
            parts.append(setter.part())
            setter = _Setter(len(parts) + 1, setter.title, setter.under)
        if chapter:
            setter.title = block.text.strip()
        setter.set(block)
    return [*parts, setter.part()]


def _chapter_level(blocks: Iterable[Block]) -> int:
    """1, or 2 where one heading of level 1 is the title of the whole."""
    levels = [block.level for block in blocks if block.sort == "heading"]
    return 2 if levels.count(1) <= 1 and 2 in levels else 1


class _Setter:
    """Sets blocks one below the other; heights are in points until the page's own height is known."""

    def __init__(self, number: int, title: str, under: str = "") -> None:
        self.number = number
        self.title = title
        self.under = under
        self.lines = 0
        self._y = 0.0
        self._wide = _WIDE_PT
        self._words: list[Word] = []
        self._drawn: list[Drawn] = []
        self._spots: list[Spot] = []
        self._kept = False

    def set(self, block: Block) -> None:
        """Set one block."""
        if block.sort == "heading":
            self.under = block.text.strip()
            size = _HEADINGS_PT[min(block.level, 6) - 1]
            self._y += 12.0
            self._paragraph((Run(block.text, bold=True),), block.line, (_LEFT_PT, size))
            self._y += 5.0
        elif block.sort == "table":
            self._table(block)
        elif block.sort == "verbatim":
            self._as_it_stands(block)
        else:
            self._y += 2.0 if block.sort == "item" else 6.0
            self._entry(block)
        self._kept = block.sort == "verbatim"

    def _entry(self, block: Block) -> None:
        """A paragraph, or an entry of a list behind its mark."""
        left = _LEFT_PT + _INDENT_PT * max(block.level - 1, 0)
        if block.sort == "item":
            if block.mark:
                self._word(block.mark, left, Run(block.mark), _SIZE_PT)
            left += _INDENT_PT
        self._paragraph(block.runs, block.line, (left, _SIZE_PT))

    def _paragraph(self, runs: Sequence[Run], line: int, at: tuple[float, float]) -> None:
        left, size = at
        x, begun = left, False
        self._spots.append(Spot(self._y, line, self.under))
        glued = False
        for run in runs:
            for number, text in enumerate(run.text.split(" ")):
                if not text:
                    glued = False
                    continue
                wide = len(text) * size * _LETTER
                if number == 0 and glued and begun:
                    x -= size * _SPACE  # "(**4**)": no space stands between the runs
                elif begun and x + wide > _LEFT_PT + _TEXT_PT:
                    x = left
                    self._down(size)
                self._word(text, x, run, size)
                x += wide + size * _SPACE
                begun = True
            glued = not run.text.endswith(" ")
        self._down(size)

    def _down(self, size: float) -> None:
        self._y += max(_PITCH_PT, 1.3 * size)
        self.lines += 1

    def _word(self, text: str, x: float, run: Run, size: float, letter: float = _LETTER) -> None:
        right = x + len(text) * size * letter
        bottom = self._y + size
        self._words.append(Word(text, x, self._y, right, bottom, size, run.bold, run.italic))

    def _as_it_stands(self, block: Block) -> None:
        """A line of fixed pitch: what stands below each other in the text does so on the page."""
        if self._kept and self._spots and block.line > self._spots[-1].line + 1:
            self._y += 0.8 * _PITCH_PT * min(block.line - self._spots[-1].line - 1, 3)
        elif not self._kept:
            self._y += 6.0
        self._spots.append(Spot(self._y, block.line, self.under))
        pitch = _SIZE_PT * _FIXED
        text, at = block.text, 0
        for word in text.split():
            at = text.index(word, at)
            self._word(word, _LEFT_PT + at * pitch, Run(word), _SIZE_PT, _FIXED)
            at += len(word)
        self._wide = max(self._wide, 2 * _LEFT_PT + len(text) * pitch)
        self._down(_SIZE_PT)

    def _table(self, block: Block) -> None:
        count = min(max(len(row) for row in block.rows), _MOST_COLUMNS)
        wide = _column_widths(block.rows, count)
        edges = [_LEFT_PT + _INDENT_PT * block.level]
        for width in wide:
            edges.append(edges[-1] + width)
        self._wide = max(self._wide, edges[-1] + _LEFT_PT)
        self._y += 8.0
        tops = [self._y]
        for number, row in enumerate(block.rows):
            self._spots.append(Spot(self._y, block.lines[number], self.under))
            self._row(row[:count], edges, head=number == 0)
            tops.append(self._y)
        for top in tops:
            self._drawn.append(Drawn("rule", edges[0], top - 0.3, edges[-1], top + 0.3))
        for edge in edges:
            self._drawn.append(Drawn("rule", edge - 0.3, tops[0], edge + 0.3, tops[-1]))
        self._y += 6.0

    def _row(self, row: Cells, edges: Sequence[float], *, head: bool) -> None:
        top, most = self._y + 3.0, 1
        lines = self.lines
        for column, cell in enumerate(row):
            room = max(int((edges[column + 1] - edges[column] - 8.0) / (_SIZE_PT * _LETTER)), 4)
            text = "".join(run.text for run in cell)
            bold = head or (bool(cell) and all(run.bold for run in cell))
            wrapped = textwrap.wrap(text, room, break_long_words=False, break_on_hyphens=False)
            for number, said in enumerate(wrapped):
                self._y = top + number * _PITCH_PT
                x = edges[column] + 4.0
                for word in said.split():
                    self._word(word, x, Run(word, bold), _SIZE_PT)
                    x += (len(word) + 2 * _SPACE) * _SIZE_PT * _LETTER
            most = max(most, len(wrapped))
        self._y = top + most * _PITCH_PT + 1.0
        self.lines = lines + most

    def part(self) -> Part:
        """The page with its height, everything on it in fractions of the page."""
        inner = max(self._y, 60.0)
        height = inner / (1 - 2 * _MARGIN)
        above = height * _MARGIN

        def down(y: float) -> float:
            return (y + above) / height

        words = tuple(
            Word(w.text, w.left / self._wide, down(w.top), min(w.right / self._wide, 1.0), down(w.bottom),
                 w.size_pt, w.bold, w.italic)
            for w in self._words
        )  # fmt: skip
        drawn = tuple(
            Drawn(d.kind, d.left / self._wide, down(d.top), d.right / self._wide, down(d.bottom))
            for d in self._drawn
        )
        spots = tuple(Spot(down(spot.top), spot.line, spot.under) for spot in self._spots)
        return Part(PageLayout(self.number, self._wide, height, words, drawn), spots, self.title)


def _column_widths(rows: Sequence[Cells], count: int) -> list[float]:
    """As wide as the longest cell asks for, the widest ones narrowed where the text's width is not enough."""
    letters = [4] * count
    words = [3] * count
    for row in rows:
        for column, cell in enumerate(row[:count]):
            text = "".join(run.text for run in cell)
            letters[column] = max(letters[column], min(len(text), 60))
            words[column] = max([words[column], *(len(word) for word in text.split())])
    asked = [(n + 1) * _SIZE_PT * _LETTER + 10.0 for n in letters]
    least = [(n + 1) * _SIZE_PT * _LETTER + 10.0 for n in words]
    share = min(1.0, _TEXT_PT / sum(asked))
    return [max(wide * share, floor) for wide, floor in zip(asked, least, strict=True)]
