"""Whole phrases looked for in a text, quickly where the text has not all the words of any of them."""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from lastbolt.reading.numbers import any_of

_WORD = re.compile(r"\w+")


@lru_cache(maxsize=1024)
def _words_of(text: str) -> frozenset[str]:
    return frozenset(_WORD.findall(text.lower()))


class Phrases:
    """Any of some phrases as whole words, whatever their capitals; `behind`: a pattern of what follows."""

    def __init__(self, phrases: Iterable[str], behind: str = r"(?!\w)") -> None:
        every = tuple(phrases)
        self._pattern = re.compile(rf"(?<!\w)(?:{any_of(every)}){behind}", re.IGNORECASE)
        self._signs = frozenset(phrase[0] for phrase in every if not _WORD.match(phrase))
        self._words: dict[str, list[frozenset[str]]] = {}
        """First word of a phrase -> the words of each that begins with it."""
        for phrase in every:
            words = _WORD.findall(phrase.lower())
            if words and phrase[0] not in self._signs:
                self._words.setdefault(words[0], []).append(frozenset(words))

    def search(self, text: str) -> re.Match[str] | None:
        """The first phrase of the text."""
        return self._pattern.search(text) if self._may_hold(text) else None

    def match(self, text: str, start: int) -> re.Match[str] | None:
        """The phrase that begins at a character of the text."""
        return self._pattern.match(text, start) if self._may_hold(text) else None

    def finditer(self, text: str) -> Iterator[re.Match[str]]:
        """Every phrase of the text, none overlapping."""
        return self._pattern.finditer(text) if self._may_hold(text) else iter(())

    def _may_hold(self, text: str) -> bool:
        words = _words_of(text)
        begun = self._words.keys() & words
        if any(phrase <= words for first in begun for phrase in self._words[first]):
            return True
        return not self._signs.isdisjoint(text)
