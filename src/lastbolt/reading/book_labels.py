"""Words that point only in this book: numbers of its sections in a shape of its own ("A1", "4/2"), an arrow
before a page, and whole titles of its sections in brackets."""

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.numbers import any_of, may_point
from lastbolt.reading.pointer import Pointer
from lastbolt.reading.sentences import sentences
from lastbolt.reading.steps import RawReference, StepFacts
from lastbolt.reading.targets import Target, bare_number, page_key
from lastbolt.reading.titles import title_key

_OWN_SHAPE = re.compile(r"(?<![\w./:·-])(?:[A-Z]{1,3}\d{1,4}[a-z]?|\d{1,3}[/:·]\d{1,3})(?![\w/]|[.:·-]\w)")
_BRACKET = re.compile(r"[(\[]\s?(?P<inner>[^()\[\]]{6,90}?)\s?[)\]]")
_WORD = re.compile(r"[^\W_]+")
_FIRST = re.compile(r"[^\W\d_]+")
_LEAST = 2
"""A title in brackets has at least so many words."""


@lru_cache(maxsize=4)
def _lead(language: Lexicon) -> tuple[re.Pattern[str], re.Pattern[str], re.Pattern[str]]:
    """What leads up to a number of the book, at the end of a text; an arrow or a letter with the page behind
    it; and the word for a part of the book before a title in small letters."""
    cues = any_of((*language.words("left_over", "cues"), *language.words("pointing", "strong_cues")))
    signs = any_of(language.words("left_over", "signs"))
    section = any_of((*language.words("pointing", "section"), *language.words("papers", "other")))
    return (
        re.compile(rf"(?:[(\[]|(?<!\w)(?:{cues})\.?\s|(?:{signs})\s?)$", re.IGNORECASE),
        re.compile(
            rf"(?:(?:{signs})\s?|(?<=[(\[])p{{1,2}}\.?)(?P<page>\d{{1,3}})(?=$|[\s).,;\]])(?!\s?(?:mm|°|%|\d))"
        ),
        re.compile(rf"(?<!\w)(?:{section}|{cues})\.?\s(?:\w+\s){{0,2}}$", re.IGNORECASE),
    )


class BookLabels:
    """Asked of one source: where a text points by a number or a title that only this book has."""

    def __init__(self, targets: Iterable[Target], source: str, language: Lexicon) -> None:
        self.language = language
        every = [target for target in targets if target.source == source]
        self.numbers = {bare_number(target.number) for target in every if target.number}
        self.pages = {page_key(page) for target in every for page in target.printed}
        self.titles = {target.key for target in every if len(target.key) >= _LEAST and target.deed != "other"}
        self.by_first: dict[str, list[tuple[str, list[str]]]] = {}
        for target in every:
            said = _WORD.findall(target.title.lower())
            ordered = any(
                hit.first == 0 and hit.form == "base" for hit in language.scan(target.title).of("deeds")
            )
            if target.deed != "other" and len(said) >= _LEAST and target.parts and not ordered:
                self.by_first.setdefault(said[0], []).append((target.title, said))
        self.firsts = {word.lower() for target in every for word in _FIRST.findall(target.title)[:1]}
        self.signs = language.words("left_over", "signs")
        self.shaped = any(_OWN_SHAPE.fullmatch(target.number) for target in every if target.number)

    def pointers(self, text: str, facts: StepFacts, read: Sequence[RawReference]) -> list[RawReference]:
        """What a step points at so, outside of the pointers that were read in it."""
        if not self._may_point(text):
            return []
        found: list[RawReference] = []
        for sentence in sentences(text, self.language):
            sure = (raw.pointer for raw in read if raw.words == sentence and not raw.pointer.weak)
            spans = [(one.start, one.end) for one in sure if one.form not in ("own", "demand")]
            found += [
                RawReference(one, sentence, facts.deeds, facts.condition, facts.applies)
                for one in (*self._numbered(sentence), *self._paged(sentence), *self._titled(sentence))
                if not any(start < one.end and one.start < end for start, end in spans)
            ]
        return found

    def _may_point(self, text: str) -> bool:
        """Whether a bracket, an arrow or a number of the book's own shape may stand there."""
        return (
            self.shaped
            or bool(self.by_first)
            or "(" in text
            or "[" in text
            or any(sign in text for sign in self.signs)
        )

    def _numbered(self, text: str) -> list[Pointer]:
        if not self.shaped:
            return []
        found = []
        for match in _OWN_SHAPE.finditer(text):
            leads = _lead(self.language)[0].search(text[max(0, match.start() - 24) : match.start()])
            known = bare_number(match.group()) in self.numbers
            if leads and known and may_point(text, match.start(), match.end(), self.language):
                found.append(Pointer(match.start(), match.end(), "section", (match.group(),), "see"))
        return found

    def _paged(self, text: str) -> list[Pointer]:
        return [
            Pointer(match.start(), match.end(), "page", (match["page"],), "see")
            for match in _lead(self.language)[1].finditer(text)
            if match["page"] not in self.numbers and page_key(match["page"]) in self.pages
        ]

    def _titled(self, text: str) -> list[Pointer]:
        """Whole titles of sections: in brackets by what they mean, elsewhere word for word."""
        found = []
        for match in _BRACKET.finditer(text):
            first = _FIRST.match(match["inner"])
            if first is None or first.group().lower() not in self.firsts:
                continue
            if title_key(match["inner"], self.language) in self.titles:
                found.append(Pointer(match.start(), match.end(), "title", (match["inner"],), "see"))
        return found or self._spelled(text)

    def _spelled(self, text: str) -> list[Pointer]:
        words = [(match.group().lower(), match.start(), match.end()) for match in _WORD.finditer(text)]
        low = [word for word, _, _ in words]
        found: list[Pointer] = []
        for at in range(1, len(low)):
            for title, said in self.by_first.get(low[at], ()):
                if low[at : at + len(said)] != said:
                    continue
                start, end = words[at][1], words[at + len(said) - 1][2]
                led = _lead(self.language)[2].search(text, 0, start)
                if text[start].isupper() or led is not None:
                    found.append(Pointer(start, end, "title", (title,), "see"))
                break
        return found
