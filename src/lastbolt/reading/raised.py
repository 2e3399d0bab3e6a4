"""Small figures set raised or lowered beside a word, found by box and size, written as such: "²⁾", "⁺⁵", "₀".

A raised figure behind a number is the mark of a note, or a tolerance, and never a digit of the number.
"""

import re
from bisect import bisect_left
from collections.abc import Sequence

from msgspec.structs import replace

from lastbolt.words.page import PageLayout, Word

_SMALL = re.compile(r"[+\-−–±]?\d{1,3}(?:[.,]\d{1,3})?\)?|\(\d{1,2}\)|[a-h]\)?|\*{1,3}\)")
_FIRST = frozenset("0123456789+-−–±(*abcdefgh")
_SMALLER = 0.82
"""A mark is set at most so large, in parts of the word beside it."""
_GAP_EM = 0.45
_OVER_EM = 0.2
_RISE = 0.2
_FALL = 0.36
"""How far a mark ends above the foot of the word, and begins below its head, in parts of its height."""
_BARS = ("/", "\u2044")
_POWER_OF = re.compile(r"(?:^|[^a-z])[kcm]?m$|(?:^|[^a-z])(?:in|ft)\.?$")
_ENDING = re.compile(r"[.,;:)\]]{1,2}")
_NUMBER_END = re.compile(r"\d[)\]]?$")
_SIGNS = "0123456789+-−–=()"
_RAISED = str.maketrans(_SIGNS + "abcdefgh", "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁻⁻⁼⁽⁾ᵃᵇᶜᵈᵉᶠᵍʰ")
_LOWERED = str.maketrans(_SIGNS, "₀₁₂₃₄₅₆₇₈₉₊₋₋₋₌₍₎")


def raise_marks(page: PageLayout) -> PageLayout:
    """The page with its raised and lowered figures written as such; a power of a unit is joined to it.

    A page read from its picture has no sizes to go by and comes back as it is.
    """
    words = page.words
    if page.scanned or len(words) < 2:
        return page
    limit = _SMALLER * max([word.size_pt for word in words])
    small = [
        i
        for i, word in enumerate(words)
        if word.size_pt <= limit and word.text[0] in _FIRST and _SMALL.fullmatch(word.text)
    ]
    if not small:
        return page
    found = _Marks(words, page.width_pt).among(small)
    return replace(page, words=found) if found is not None else page


class _Marks:
    """Looks for the word beside each small figure: first next to it in the file, then anywhere."""

    def __init__(self, words: Sequence[Word], width_pt: float) -> None:
        self.words = words
        self.width_pt = width_pt
        self.further: dict[int, float] = {}
        """Words that have a mark, and where it ends: another may stand behind it."""
        self.least_pt = 0.0
        """The size of the smallest figure that may be a mark."""
        self.by_edge: tuple[list[tuple[float, int]], list[tuple[float, int]]] | None = None

    def among(self, small: Sequence[int]) -> tuple[Word, ...] | None:
        """The words with their marks written as such; None where there are none."""
        new: dict[int, Word | None] = {}
        self.least_pt = min(self.words[index].size_pt for index in small)
        for index in small:
            word = self.words[index]
            found = self._beside(index)
            if found is None or self._in_fraction(index):
                continue
            base, lowered = found
            held = self.words[base]
            text, behind = word.text.translate(_LOWERED if lowered else _RAISED), self._ending(index)
            if behind is not None:
                text, word, new[index + 1] = text + behind.text, behind, None
            if not lowered and text[0] in "²³" and base < index and _POWER_OF.search(held.text):
                new[base], new[index] = _in_place(word, held, held.text + text, held.left), None
                continue
            self.further[base] = word.right
            new[index] = _in_place(word, held, text, self.words[index].left)
        if not new:
            return None
        return tuple(w for i, old in enumerate(self.words) if (w := new.get(i, old)) is not None)

    def _beside(self, index: int) -> tuple[int, bool] | None:
        """The larger word that a small one stands raised or lowered beside, and whether it is lowered."""
        word, words = self.words[index], self.words
        level = False
        for at in (index - 1, index - 2, index - 3, index + 1):
            if 0 <= at < len(words):
                held = words[at]
                if word.size_pt <= _SMALLER * held.size_pt:
                    lowered = self._touches(word, at, behind=at > index)
                    if lowered is not None:
                        return at, lowered
                level = level or held.top < (word.top + word.bottom) / 2 < held.bottom
        return None if level else self._anywhere(index)

    def _anywhere(self, index: int) -> tuple[int, bool] | None:
        """The same among all words of the page, for a mark that the file draws apart from its line."""
        if self.by_edge is None:
            large = [(i, w) for i, w in enumerate(self.words) if _SMALLER * w.size_pt >= self.least_pt]
            self.by_edge = (
                sorted((word.right, i) for i, word in large),
                sorted((word.left, i) for i, word in large),
            )
        word = self.words[index]
        reach = 2 * word.size_pt / self.width_pt
        for behind, edge in ((False, word.left), (True, word.right)):
            edges = self.by_edge[behind]
            for at in range(bisect_left(edges, (edge - reach, 0)), bisect_left(edges, (edge + reach, 0))):
                other = edges[at][1]
                if word.size_pt <= _SMALLER * self.words[other].size_pt:
                    lowered = self._touches(word, other, behind=behind)
                    if lowered is not None:
                        return other, lowered
        return None

    def _touches(self, word: Word, at: int, *, behind: bool) -> bool | None:
        """Whether a small word stands lowered beside a larger one; None where it does not stand beside it."""
        held = self.words[at]
        if len(held.text) == 1 and held.text.isupper():
            return None
        edge = self.further.get(at, held.right)
        em = held.size_pt
        gaps = [held.left - word.right] if behind else [word.left - held.right, word.left - edge]
        if not any(-_OVER_EM * em <= gap * self.width_pt <= _GAP_EM * em for gap in gaps):
            return None
        if self._raised(word, held):
            return False
        return True if not behind and self._lowered(word, held) else None

    def _in_fraction(self, index: int) -> bool:
        """Whether a bar stands right before or behind it: a part of a built fraction."""
        around = (*self.words[max(0, index - 1) : index], *self.words[index + 1 : index + 2])
        return any(word.text in _BARS for word in around)

    def _ending(self, index: int) -> Word | None:
        """The stop or bracket that stands right behind a mark, in the larger type of the line."""
        word, behind = self.words[index], self.words[index + 1] if index + 1 < len(self.words) else None
        if behind is None or not _ENDING.fullmatch(behind.text) or behind.size_pt <= word.size_pt:
            return None
        near = abs(behind.left - word.right) * self.width_pt < 0.2 * behind.size_pt
        return behind if near and behind.top < word.bottom < behind.bottom else None

    def _raised(self, word: Word, held: Word) -> bool:
        height = held.bottom - held.top
        return (
            held.top + 0.15 * height < word.bottom <= held.bottom - _RISE * height
            and word.top < held.top + 0.4 * height
        )

    def _lowered(self, word: Word, held: Word) -> bool:
        height = held.bottom - held.top
        return (
            _NUMBER_END.search(held.text) is not None
            and word.top >= held.top + _FALL * height
            and held.bottom - 0.06 * height <= word.bottom < held.bottom + 0.5 * height
        )


def _in_place(word: Word, held: Word, text: str, left: float) -> Word:
    """A mark on the line of its word, so that rows and headings are found as if it were not there."""
    return Word(text, left, held.top, word.right, held.bottom, held.size_pt, held.bold, held.italic)
