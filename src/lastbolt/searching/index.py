"""An index of every word of all sources, and what is found in it."""

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from lastbolt.searching.atoms import atoms, terms
from lastbolt.words.citation import Box, Place

NEAR = 40
"""So many atoms around are one place for the eye: words further apart only stand on the same page."""
BESIDE = 9
"""Words shown on each side of what was found."""
LEAST_BEGUN = 3
"""A word of so many letters is found by its beginning too."""
MOST_HITS = 200
MOST_BOXES = 60


class Passage(Struct, frozen=True):
    """A page, a line of a table or a paragraph of a module, with its words; `boxes`: where each stands."""

    source: str
    place: Place
    words: tuple[str, ...]
    boxes: tuple[Box, ...] = ()


class Hit(Struct, frozen=True):
    """A place where everything stands that was asked for. `before`, `found` and `after` are its words;
    `boxes` those of every match on the page; `near`: all of it stands together."""

    source: str
    place: Place
    before: str
    found: str
    after: str
    boxes: tuple[Box, ...] = ()
    near: bool = True


class Index:
    """Every word of some passages, to be searched again and again."""

    def __init__(self, passages: Iterable[Passage]) -> None:
        self.passages = tuple(passages)
        self._word_of: list[list[int]] = []
        self._atoms: list[list[str]] = []
        self._at: dict[str, list[tuple[int, int]]] = {}
        for number, passage in enumerate(self.passages):
            self._take(number, passage)
        self._sorted = sorted(self._at)

    def _take(self, number: int, passage: Passage) -> None:
        word_of: list[int] = []
        here: list[str] = []
        for at, word in enumerate(passage.words):
            for atom in atoms(word):
                self._at.setdefault(atom, []).append((number, len(here)))
                here.append(atom)
                word_of.append(at)
            if here and word.endswith(("-", "\u2010")) and at + 1 < len(passage.words):
                whole = here[-1] + (atoms(passage.words[at + 1]) or ("",))[0]
                self._at.setdefault(whole, []).append((number, len(here) - 1))
        self._word_of.append(word_of)
        self._atoms.append(here)

    def search(self, query: str, most: int = MOST_HITS) -> tuple[Hit, ...]:
        """Where all words of the query stand: together first, in the order of the sources."""
        asked = terms(query)
        if not asked:
            return ()
        found = [self._of_term(term) for term in asked]
        shared = set(found[0]).intersection(*found[1:])
        hits = [self._hit(number, [one[number] for one in found]) for number in sorted(shared)]
        return tuple(sorted(hits, key=lambda hit: not hit.near)[:most])

    def _of_term(self, term: tuple[str, ...]) -> dict[int, list[tuple[int, int]]]:
        """By passage, where a term stands: its first atom and how many it has."""
        found: dict[int, list[tuple[int, int]]] = {}
        length = len(term)
        for atom in self._begun(term[0]) if length == 1 else (term[0],):
            for number, at in self._at.get(atom, ()):
                if length == 1 or self._goes_on(self._atoms[number], at, term):
                    found.setdefault(number, []).append((at, length))
        return found

    def _begun(self, atom: str) -> Sequence[str]:
        """The atoms that begin with a word; of figures only the very same."""
        if atom.isdigit() or len(atom) < LEAST_BEGUN:
            return (atom,)
        start = bisect_left(self._sorted, atom)
        end = bisect_left(self._sorted, atom + "\U0010ffff")
        return self._sorted[start:end]

    def _goes_on(self, here: list[str], at: int, term: tuple[str, ...]) -> bool:
        stands = here[at : at + len(term)]
        if len(stands) < len(term) or tuple(stands[:-1]) != term[:-1]:
            return False
        last = term[-1]
        begun = not last.isdigit() and len(last) >= LEAST_BEGUN
        return stands[-1].startswith(last) if begun else stands[-1] == last

    def _hit(self, number: int, found: list[list[tuple[int, int]]]) -> Hit:
        passage, word_of = self.passages[number], self._word_of[number]
        first, last = closest(found)
        near = last - first <= NEAR
        spots = sorted({spot for one in found for spot in one})
        if not near:  # far apart: what is shown is the rarest of them
            at, length = min(found, key=len)[0]
            first, last = at, at + length - 1
        words = [word_of[at] for at in range(first, last + 1)]
        boxes = tuple(_boxes(passage, word_of, spots)) if passage.boxes else ()
        said = passage.words
        return Hit(
            passage.source, passage.place,
            " ".join(said[max(0, words[0] - BESIDE) : words[0]]),
            " ".join(said[words[0] : words[-1] + 1]),
            " ".join(said[words[-1] + 1 : words[-1] + 1 + BESIDE]),
            boxes, near,
        )  # fmt: skip


def _boxes(passage: Passage, word_of: list[int], spots: list[tuple[int, int]]) -> Iterator[Box]:
    words = dict.fromkeys(word_of[at + n] for at, length in spots for n in range(length))
    for word in list(words)[:MOST_BOXES]:
        yield passage.boxes[word]


def closest(found: Sequence[Sequence[tuple[int, int]]]) -> tuple[int, int]:
    """The first and last atom of the shortest stretch with one match of each term.

    >>> closest([[(1, 1), (20, 1)], [(22, 2), (60, 2)]])
    (20, 23)
    """
    events = sorted((at, at + length - 1, term) for term, one in enumerate(found) for at, length in one)
    best: tuple[int, int] | None = None
    last: dict[int, tuple[int, int]] = {}
    for at, end, term in events:
        last[term] = (at, end)
        if len(last) == len(found):
            stretch = min(one[0] for one in last.values()), max(one[1] for one in last.values())
            if best is None or stretch[1] - stretch[0] < best[1] - best[0]:
                best = stretch
    assert best is not None
    return best
