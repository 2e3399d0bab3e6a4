"""Paragraphs counted through a chapter or a book: "Chap. III, para. 69" is a step of a section."""

from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.pointers import Pointer
from lastbolt.reading.steps import RawReference
from lastbolt.reading.targets import Found, Target, bare_number

_SHARE = 0.6
"""Of the sections behind others, this share goes on counting where a book counts its paragraphs through."""


class _Place(NamedTuple):
    target: Target
    number: int


class Paragraphs:
    """The numbered paragraphs of all books that count them through, found by chapter and number."""

    def __init__(self, targets: Iterable[Target], language: Lexicon) -> None:
        self.language = language
        self._root: dict[str, Target] = {}
        self._chapters: dict[str, dict[int, Target]] = {}
        """Id of a chapter -> its paragraphs and the sections they stand in."""
        self._of_number: dict[tuple[str, str], list[str]] = {}
        """Source and number of a chapter -> ids of the chapters so numbered."""
        self._of_paragraph: dict[int, list[Target]] = {}
        """Number of a paragraph -> the sections it stands in, one for each chapter that has it."""
        self._twice: set[str] = set()
        """Sources in which a number comes twice."""
        for target in targets:
            self._root[target.id] = self._root.get(target.parent or "", target)
        for source in dict.fromkeys(target.source for target in self._root.values()):
            self._take(source, [t for t in targets if t.source == source and t.counted])
        met: set[tuple[str, int]] = set()
        for known in self._chapters.values():
            for number, target in known.items():
                self._of_paragraph.setdefault(number, []).append(target)
                if (target.source, number) in met:
                    self._twice.add(target.source)
                met.add((target.source, number))

    def _take(self, source: str, telling: list[Target]) -> None:
        """Take up a book if it counts through."""
        by_root: dict[str, list[Target]] = {}
        for target in telling:
            by_root.setdefault(self._root[target.id].id, []).append(target)
        if not _counts_on(list(by_root.values())) and not _counts_on([telling]):
            return
        for identity, sections in by_root.items():
            known = self._chapters.setdefault(identity, {})
            for target in sections:
                for number in target.counted:
                    known.setdefault(number, target)
            chapter = bare_number(self._root[identity].number)
            self._of_number.setdefault((source, chapter), []).append(identity)

    def look_up(self, pointer: Pointer, raw: RawReference, own: Target, *, known: bool) -> Found | None:
        """Where numbers lead that are those of paragraphs; None when they are something else.

        Args:
            pointer: numbers of sections as printed
            raw: the words they stand in
            own: the section they stand in
            known: whether the book has sections so numbered
        """
        if not self._chapters or pointer.form != "section" or (known and self._names_chapter(pointer, raw)):
            return None
        ends = [end for number in pointer.targets for end in number.split("..")]
        if known and not self._names_paragraph(pointer, raw):
            return None
        places = [self._place(end, own) for end in ends]
        if not places or any(place is None for place in places):
            return None
        found = [place for place in places if place is not None]
        run = (pointer.span and len(found) == 2) or any(".." in number for number in pointer.targets)
        return self._run(found[0], found[-1]) if run else _listed(found, own, any_of=pointer.any_of)

    def _place(self, number: str, own: Target) -> _Place | None:
        """The paragraph of a number, in its own chapter or the one that is named; else the only one so
        numbered in the book."""
        chapter, _, last = bare_number(number).rpartition("-")
        if not last.isdecimal():
            return None
        if chapter:
            ids = self._of_number.get((own.source, chapter), [])
        else:
            root = self._root.get(own.id)
            ids = [root.id] if root is not None else []
        for identity in ids:
            target = self._chapters.get(identity, {}).get(int(last))
            if target is not None:
                return _Place(target, int(last))
        if chapter:
            return None
        every = self._of_paragraph.get(int(last), [])
        only = len(every) == 1 and every[0].source == own.source
        return _Place(every[0], int(last)) if only and own.source not in self._twice else None

    def _run(self, first: _Place, last: _Place) -> Found | None:
        """The sections from one paragraph to another; of one section the paragraphs."""
        if first.number > last.number:
            return None
        if first.target.id == last.target.id:
            whole = (first.number, last.number) == (min(first.target.counted), max(first.target.counted))
            steps = ("", "") if whole else (str(first.number), str(last.number))
            return Found((_goal(first.target),), "resolved", steps=steps)
        known = self._chapters[self._root[first.target.id].id]
        inner = [t for number, t in sorted(known.items()) if first.number <= number <= last.number]
        to = tuple(dict.fromkeys(_goal(target) for target in inner))
        whole = min(first.target.counted) == first.number and max(last.target.counted) == last.number
        return Found(to, "resolved" if whole else "doubtful")

    def _names_chapter(self, pointer: Pointer, raw: RawReference) -> bool:
        return any(self.language.among(word, "titles", "chapter") for word in _words(pointer, raw))

    def _names_paragraph(self, pointer: Pointer, raw: RawReference) -> bool:
        return any(self.language.among(word, "pointing", "paragraph") for word in _words(pointer, raw))


def _counts_on(chapters: list[list[Target]]) -> bool:
    """Whether most sections begin with the number behind the last of the section before."""
    pairs = [
        (max(one.counted), min(other.counted)) for sections in chapters for one, other in pairwise(sections)
    ]
    return len(pairs) > 1 and sum(second == first + 1 for first, second in pairs) >= _SHARE * len(pairs)


def _listed(places: list[_Place], own: Target, *, any_of: bool) -> Found:
    """Paragraphs that are named one by one: the sections they stand in; of the own section the paragraphs."""
    to = tuple(dict.fromkeys(_goal(place.target) for place in places))
    steps = ("", "")
    if len(to) == 1 and (len(places) > 1 or places[0].target.id == own.id):
        steps = str(places[0].number), str(places[-1].number)
    return Found(to, "resolved", any_of, steps=steps)


def _words(pointer: Pointer, raw: RawReference) -> Iterator[str]:
    for word in raw.words[pointer.start : pointer.end].lower().split():
        yield word.strip("(,;)")


def _goal(target: Target) -> str:
    return target.procedure or target.id
