"""The words that say which engines something is for, found in a text one behind the other."""

import re
import tomllib
from collections.abc import Iterable
from functools import lru_cache
from importlib import resources
from typing import NamedTuple

MOST_KEPT = 4_000
"""Texts whose words are kept, for most are met again."""
MOST_DIGITS = 15
"""A longer number is no serial number that a program may count with."""
_NUMBER = re.compile(r"(?:\d{1,3}(?:[ .,\u00a0\u202f]\d{3})+|\d+)(?![\w])(?![.,]\d)")
_WORD = re.compile(r"[^\W\d_]+-\d+[^\W_]*|[^\W_]+")
_GAP = r"\.?[\s\-‑\u00ad]+"


class Word(NamedTuple):
    """One word or phrase and where it stands; `sorts`: the lists it is in; `number`: what it counts."""

    text: str
    start: int
    end: int
    sorts: frozenset[str]
    number: int | None = None
    grouped: bool = False
    """ "40 211", "1,200": one number, or two of a list."""


class EngineWords:
    """The lists of one language; `words` is the one way in."""

    def __init__(self, data: dict[str, list[str]]) -> None:
        lists: dict[str, set[str]] = {}
        for sort, phrases in data.items():
            for phrase in phrases:
                lists.setdefault(_clean(phrase), set()).add(sort)
        self._lists = {phrase: frozenset(sorts) for phrase, sorts in lists.items()}
        longest = sorted((p for phrases in data.values() for p in phrases), key=len, reverse=True)
        self._phrases = re.compile("|".join(dict.fromkeys(map(_pattern, longest))), re.IGNORECASE)
        self._roots = frozenset(re.findall(r"[^\W_]+", phrase.lower())[0] for phrase in data["serial"])
        self._seen: dict[tuple[str, tuple[str, ...]], list[Word]] = {}

    def may_begin_serials(self, words: Iterable[str]) -> bool:
        """Whether one of these lower-case words begins a phrase for serial numbers; few sentences do."""
        return any(word in self._roots for word in words)

    def words(self, text: str, known: Iterable[str] = ()) -> list[Word]:
        """The words of a text, signs and all; `known`: names of variants, which are words of their own."""
        key = (text, tuple(known))
        found = self._seen.get(key)
        if found is None:
            if len(self._seen) > MOST_KEPT:
                self._seen.clear()
            found = self._seen[key] = self._parted(*key)
        return list(found)

    def _parted(self, text: str, known: tuple[str, ...]) -> list[Word]:
        names = sorted({name.strip() for name in known if name.strip()}, key=len, reverse=True)
        pattern = re.compile("|".join(_name(name) for name in names) or r"(?!)")
        found: list[Word] = []
        at = 0
        while at < len(text):
            if text[at].isspace():
                at += 1
                continue
            found.append(self._word(text, at, pattern))
            at = found[-1].end
        return found

    def _word(self, text: str, at: int, names: re.Pattern[str]) -> Word:
        """The longest thing that stands at `at`: a variant's name, a phrase, a number, a word, a sign."""
        number = _NUMBER.match(text, at)
        name = names.match(text, at)
        if name is not None:
            value = int(name[0]) if name[0].isdigit() and len(name[0]) <= MOST_DIGITS else None
            return Word(name[0], at, name.end(), frozenset(("known",)), value)
        phrase = self._phrases.match(text, at)
        if phrase is not None:
            return Word(phrase[0], at, phrase.end(), self._lists.get(_clean(phrase[0]), frozenset()))
        if number is not None:
            digits = re.sub(r"\D", "", number[0])
            value = int(digits) if len(digits) <= MOST_DIGITS else None
            return Word(number[0], at, number.end(), frozenset(), value, len(digits) < len(number[0]))
        word = _WORD.match(text, at)
        return Word(word[0] if word else text[at], at, word.end() if word else at + 1, frozenset())


def _clean(phrase: str) -> str:
    spaced = re.sub(r"(?<=\w)\.|[-‑\u00ad](?=\w)", " ", phrase.lower())
    return " ".join(spaced.split()) or phrase.strip()


def _pattern(phrase: str) -> str:
    """The phrase with spaces, hyphens and the dots of abbreviations as they come."""
    parts = phrase.replace(".", " ").split()
    if not any(c.isalnum() for c in phrase):
        return re.escape(phrase)
    inside = _GAP.join(re.escape(part) for part in parts)
    return rf"(?<!\w){inside}(?!\w)(?:\.(?!\d))?"


def _name(name: str) -> str:
    """A variant's name: a short one only as it is written, since "on" may be a word and "ON" a name."""
    spelled = re.escape(name) if len(name) <= 4 else f"(?i:{re.escape(name)})"
    return rf"(?<![\w]){spelled}(?![\w])"


@lru_cache(maxsize=1)
def engine_words() -> EngineWords:
    """The words of the language file beside this module."""
    text = resources.files(__package__).joinpath("engine_words.toml").read_text(encoding="utf-8")
    return EngineWords(tomllib.loads(text))
