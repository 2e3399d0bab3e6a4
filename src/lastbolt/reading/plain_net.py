"""The net under all nets: what points in the words of the pages, whatever the rules made of them."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from lastbolt.reading.drafts import Book, SectionDraft
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.manual import BookRead
from lastbolt.reading.marks import mark_of
from lastbolt.reading.piece import STEPS, joined
from lastbolt.reading.pointers import Pointer, pointers_in
from lastbolt.reading.problems import Reporter, quoted
from lastbolt.reading.references import Directory, look_up
from lastbolt.reading.sentences import sentences
from lastbolt.reading.steps import RawReference
from lastbolt.reading.swallowed import in_general
from lastbolt.reading.targets import section_id
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import Procedure

_SIGNS = re.compile(r"[\W_]+")
_NUMBER = re.compile(r"\(?\w{1,3}(?:[.\-‑–]\w{1,3}){1,4}[.:)]?")
_SHORT = 12
"""A heading or an entry of the contents has seldom more words."""
_LEAD = 24
"""So many letters before what points tell which of two like pointers it is."""
_APART = 1.9
"""Lines that stand further apart, in heights of a line, are no one paragraph."""
_QUIET = ("own", "steps", "figure", "table", "demand")
"""Forms that lead to no section, or are looked after elsewhere."""

_MOST = 240


class Passage(NamedTuple):
    """Lines of a page that read on, and the section in whose flow they stand."""

    page: int
    text: str
    section: SectionDraft | None
    lines: tuple[Line, ...]


def passages(pages: Iterable[tuple[int, Sequence[Line]]], book: Book) -> Iterator[Passage]:
    """The words of the pages without headings, contents, running heads; paragraph by paragraph."""
    heads = {_spot(at.pdf_page, at.line): s for s in book.sections for at in s.heading.lines}
    passed = {_spot(at.pdf_page, at.line) for s in book.sections for p in s.again for at in p.lines}
    passed |= {_spot(at.pdf_page, at.line) for piece in book.contents for at in piece.lines}
    section: SectionDraft | None = None
    for page, lines in pages:
        run: list[Line] = []
        for line in lines:
            spot = _spot(page, line)
            new = spot in heads or spot in passed
            if run and (new or _begins(line, run[-1], book.language)):
                yield _passage(page, run, section)
                run = []
            section = heads.get(spot, section)
            if not new:
                run.append(line)
        if run:
            yield _passage(page, run, section)


def _spot(page: int, line: Line) -> tuple[int, float, float]:
    return page, round(line.top, 3), round(line.left, 3)


def _passage(page: int, run: list[Line], section: SectionDraft | None) -> Passage:
    text = ""
    for line in run:
        text = joined(text, line.text.replace("\t", " "))
    return Passage(page, text, section, tuple(run))


def _begins(line: Line, last: Line, language: Lexicon) -> bool:
    """Whether a line begins a passage of its own."""
    if (line.region, line.place, line.column) != (last.region, last.place, last.column):
        return True
    if line.region not in ("", STEPS) or line.bold != last.bold:
        return True
    height = max(last.bottom - last.top, 0.001)
    return line.top - last.top > _APART * height or mark_of(line.text, language) is not None


class PlainNet:
    """Asked of one source: which sentences of its pages point and are held by no reference of the model."""

    def __init__(self, directory: Directory, book: BookRead, procedures: Iterable[Procedure]) -> None:
        self.directory = directory
        self.language = directory.language
        self.book = book
        self.standing = _standing_in(book.plain)
        self.words: dict[int | None, list[str]] = {}
        """Page -> the words of the references there."""
        for made in procedures:
            of_steps = (reference for step in made.steps for reference in step.references)
            for reference in (*made.before, *made.after, *of_steps):
                for page in {getattr(one.place, "pdf_page", None) for one in reference.citations}:
                    self.words.setdefault(page, []).append(_flat(reference.words))

    def missed(self) -> Iterator[tuple[int, str, tuple[Line, ...]]]:
        """Page and words of every sentence that points at what the book has, and became no reference."""
        every = [
            (passage, sentence, pointer)
            for passage in passages(self.book.plain, self.book.book)
            if passage.lines[0].region in ("", STEPS)
            for sentence in sentences(passage.text, self.language)
            for pointer in pointers_in(self.language.scan(sentence), self.language)
            if pointer.form not in _QUIET
        ]
        times = Counter((one.page, _core(pointer, said)) for one, said, pointer in every)
        told: set[tuple[int, str]] = set()
        for passage, sentence, pointer in every:
            page = passage.page
            if (page, sentence) in told or self._held(page, sentence, pointer, times):
                continue
            if self._leads(pointer, sentence, passage.section):
                told.add((page, sentence))
                yield page, sentence, passage.lines

    def _held(self, page: int, sentence: str, pointer: Pointer, times: Counter[tuple[int, str]]) -> bool:
        """Whether a reference of the model has these words: with what stands before them, or as often."""
        near = [words for at in (page, page - 1, page + 1) for words in self.words.get(at, ())]
        whole = _flat(sentence)
        said = _flat(sentence[max(0, pointer.start - _LEAD) : pointer.end])
        core = _core(pointer, sentence)
        if any(said in words or (core in words and words in whole) for words in near):
            return True
        return sum(core in words for words in near) >= times[page, core]

    def _leads(self, pointer: Pointer, sentence: str, section: SectionDraft | None) -> bool:
        """Whether it leads to other work of the book, or is said so plainly that it should."""
        if section is None or in_general(section, self.language) or section.children:
            return False
        own = self.directory.targets[section_id(self.book.settings.source, section)]
        if pointer.form == "reverse":
            return own.procedure is None or not pointer.targets
        found = look_up(RawReference(pointer, sentence, ()), own, self.directory)
        if found is None:
            return self._unknown(pointer)
        if pointer.weak and not found.to:
            return False
        here = {own.id, own.procedure}
        if found.to:
            return not set(found.to) <= here and any("/procedure/" in to for to in found.to)
        return pointer.cue != "none"

    def _unknown(self, pointer: Pointer) -> bool:
        """Whether it points though no section read has its number: said plainly, or the number stands before
        or behind words somewhere, as one of a heading does."""
        if pointer.form not in ("section", "page"):
            return False
        if pointer.weak or pointer.cue != "bracket":
            return pointer.cue == "see" or not pointer.weak
        return any(_flat(end) in self.standing for one in pointer.targets for end in one.split(".."))


def _standing_in(pages: Iterable[tuple[int, Sequence[Line]]]) -> frozenset[str]:
    """The numbers of two parts or more that begin or end a short line, or are one."""
    found: set[str] = set()
    for _, lines in pages:
        for line in lines:
            words = line.text.split()
            if line.region in ("", STEPS) and words and len(words) <= _SHORT:
                found |= {_flat(word) for word in (words[0], words[-1]) if _NUMBER.fullmatch(word)}
    return frozenset(found)


def _core(pointer: Pointer, sentence: str) -> str:
    """What makes a pointer this one: its numbers or its title, else its words."""
    first = _flat(pointer.targets[0].split("..")[0]) if pointer.targets else ""
    return first or _flat(sentence[pointer.start : pointer.end])


def _flat(text: str) -> str:
    return _SIGNS.sub("", text.lower())


def tell_missed(
    book: BookRead, directory: Directory, procedures: Iterable[Procedure], reporter: Reporter
) -> None:
    """Record one problem for each sentence on the pages that points and became no reference."""
    source = book.settings.source
    told = _told_already(reporter)
    for page, sentence, lines in PlainNet(directory, book, procedures).missed():
        said = quoted(sentence, _MOST)
        near = {one for at in (page - 1, page, page + 1) for one in told.get(at, ())}
        if any(one in _flat(sentence) or _flat(sentence) in one for one in near):
            continue
        what = f"{said} points elsewhere, and nothing in the model says so."
        do = "Look at the page: where that leads is in no plan because of it."
        place = PdfPlace(page, book.running.printed.get(page), lines[0].box)
        reporter.add("LB-R17", what, do, (Citation(source, place, sentence),))


def _told_already(reporter: Reporter) -> dict[int | None, list[str]]:
    """Page -> the words told there."""
    told: dict[int | None, list[str]] = {}
    for problem in reporter.found:
        if not problem.what.startswith('"'):
            continue
        for citation in problem.citations:
            told.setdefault(getattr(citation.place, "pdf_page", None), []).append(
                _flat(problem.what[1 : problem.what.rfind('"')])
            )
    return told
