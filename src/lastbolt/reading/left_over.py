"""The net under the rules for references: numbers of the book's own sections that none of them took."""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.references import Target, bare_number

_NUMBER = re.compile(
    r"(?<![\w.,:×+±=<>≤≥°$€£#*])(?:(?<![-‑–])|(?<=\d[-‑–]))"
    r"(\d{1,3}(?:[.\-‑–]\d{1,3}){1,4}[A-Za-z]?)(?!\w|[.,:]\d|\s?[%°×\"”′″±])"
)
_RUN = re.compile(r"(\d{1,3}(?:\.\d{1,3})+)[-‑–](\d{1,3}(?:\.\d{1,3})+)")
_PLAIN = re.compile(r"(?<![\w.\-–])\d{1,3}[a-z]?(?![\w.\-–])")
_MORE = r"(?:\s?(?:-|–|—|to|and|or|x|×|…|\.{2,3}|/|±|\+)\s?\d[\d.,]*)*"
_REACH = 60
"""How far back the word that says what a number is may stand, with a list of numbers between."""


class _Patterns(NamedTuple):
    quantity: re.Pattern[str]
    """Behind a number: more numbers and a unit."""
    thing: re.Pattern[str]
    """Before a number: a word that makes it the number of a figure, a table, a part, a page ..."""
    cued: re.Pattern[str]
    """Words such as "see" with a number of one or two digits, or one with a comma, close behind."""


@lru_cache(maxsize=4)
def _patterns(language: Lexicon) -> _Patterns:
    units = _any_of(language.words("left_over", "units"))
    things = [w for key in ("figure", "table", "page") for w in language.words("pointing", key)]
    things += language.words("left_over", "things")
    number = r"[A-Z]?\d{1,4}(?:[.\-–]\d{1,4})*[a-z]?"
    return _Patterns(
        re.compile(rf"{_MORE}\s?-?(?:{units})(?![^\W\d_])"),
        re.compile(
            rf"(?:(?<!\w)(?:{_any_of(things)})\.?|[Ø⌀])[\s(]{{0,2}}(?:{number}\s?(?:,|;|and|or|to|&|-|–)\s?)*$",
            re.IGNORECASE,
        ),
        re.compile(
            rf"(?<!\w)(?:{_any_of(language.words('left_over', 'cues'))})\.?\s"
            r"(?P<number>\d{1,3}(?:,\d{1,2})?[A-Za-z]?)(?!\w|[.,\-–]\d|\s?[%°×])",
            re.IGNORECASE,
        ),
    )


def _any_of(words: Iterable[str]) -> str:
    return "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))


class Net:
    """Asked of one source: which of its sections a text names by number."""

    def __init__(self, targets: Iterable[Target], source: str, language: Lexicon) -> None:
        self.patterns = _patterns(language)
        every = [target for target in targets if target.source == source]
        telling = {target.id for target in every if target.procedure is not None}
        parent = {target.id: target.parent for target in every}
        for one in tuple(telling):
            above = parent.get(one)
            while above is not None and above not in telling:
                telling.add(above)
                above = parent.get(above)
        self.by_number: dict[str, list[Target]] = {}
        for target in every:
            if target.number and target.id in telling:
                self.by_number.setdefault(bare_number(target.number), []).append(target)

    def caught(self, text: str, own: Target, taken: frozenset[str]) -> list[Target]:
        """The sections with work in them whose numbers stand in the text; not its own, not the taken."""
        if not any(c.isdigit() for c in text):
            return []
        found: dict[str, Target] = {}
        for number in self._numbers(text):
            hits = self.by_number.get(bare_number(number)) or self.by_number.get(
                bare_number(number.rstrip("abcdefghijklmnopqrstuvwxyz")), []
            )
            for target in hits:
                if target.number != own.number and bare_number(target.number) not in taken:
                    found.setdefault(target.id, target)
        return list(found.values())

    def _numbers(self, text: str) -> Iterator[str]:
        for match in _NUMBER.finditer(text):
            run = _RUN.fullmatch(match[1])
            parts = run.groups() if run is not None else (match[1],)
            known = [part for part in parts if self._known(part)]
            if known and self._names(text, match.start(), match.end()):
                yield from known
        for match in self.patterns.cued.finditer(text):
            number = match["number"].replace(",", ".")
            if self._known(number) and self._names(text, match.start("number"), match.end()):
                yield number

    def _known(self, number: str) -> bool:
        return bare_number(number) in self.by_number or bare_number(number[:-1]) in self.by_number

    def _names(self, text: str, start: int, end: int) -> bool:
        """Whether it is neither a quantity nor the number of another kind of thing."""
        if self.patterns.quantity.match(text, end) or _among_callouts(text, start, end):
            return False
        return not self.patterns.thing.search(text[max(0, start - _REACH) : start])


def _among_callouts(text: str, start: int, end: int) -> bool:
    """Whether "3-5" is a run of callouts: in brackets, with plain numbers beside it: "(1, 3-5)"."""
    opening = text.rfind("(", 0, start)
    closing = text.find(")", end)
    if "." in text[start:end] or opening < 0 or closing < 0 or ")" in text[opening:start]:
        return False
    beside = f"{text[opening + 1 : start]} {text[end:closing]}"
    return _PLAIN.search(beside) is not None and not any(c.isalpha() for c in text[opening:start])
