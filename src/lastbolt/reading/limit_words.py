"""The words of one language by which limits, consumables and tools are known, ready to be asked."""

import re
import tomllib
from collections.abc import Iterable
from functools import lru_cache
from importlib import resources
from typing import Any

from lastbolt.reading.numbers import any_of
from lastbolt.reading.phrases import Phrases

_CLEAN = re.compile(r"[\s,;:.\[\]()/·-]+")


class LimitWords:
    """Asked for lists, and for patterns of them, which are made once."""

    def __init__(self, data: dict[str, Any]) -> None:
        self.data = data
        units: dict[str, Any] = data["units"]
        self.spellings: dict[str, str] = {}
        for unit, spelled in units.items():
            if unit not in ("ambiguous", "unsure", "inside"):
                self.spellings |= dict.fromkeys(spelled, unit)
        self.ambiguous = frozenset(units["ambiguous"])
        self.unsure = frozenset(units["unsure"])
        self._folded = {s.lower(): u for s, u in self.spellings.items() if len(s) > 1}
        self._patterns: dict[tuple[str, ...], re.Pattern[str]] = {}
        self._phrases: dict[tuple[str, str], frozenset[str]] = {}

    def unit(self, spelled: str) -> str | None:
        """The unit that a spelling stands for; of one letter only as it is written."""
        bare = " ".join(spelled.split())
        return self.spellings.get(bare) or self._folded.get(bare.lower())

    def words(self, table: str, key: str) -> tuple[str, ...]:
        """One list of the language file."""
        return tuple(self.data[table][key])

    def any_of(self, table: str, *keys: str) -> str:
        """A pattern's text for any phrase of some lists."""
        return any_of(word for key in keys for word in self.data[table][key])

    def pattern(self, table: str, *keys: str) -> re.Pattern[str]:
        """A pattern that finds whole phrases of some lists, whatever their capitals."""
        found = self._patterns.get((table, *keys))
        if found is None:
            text = rf"(?<!\w)(?:{self.any_of(table, *keys)})(?!\w)"
            found = self._patterns[table, *keys] = re.compile(text, re.IGNORECASE)
        return found

    def among(self, text: str, table: str, key: str) -> bool:
        """Whether a text is, signs apart, one phrase of a list."""
        found = self._phrases.get((table, key))
        if found is None:
            found = self._phrases[table, key] = frozenset(plain(word) for word in self.data[table][key])
        return plain(text) in found


def plain(text: str) -> str:
    """Lower case, with signs as single spaces."""
    return _CLEAN.sub(" ", text.lower()).strip()


def every_phrase(lists: Iterable[Iterable[str]]) -> str:
    """A pattern's text for any phrase of any of the lists."""
    return any_of(word for words in lists for word in words)


@lru_cache(maxsize=4)
def measure_names(words: LimitWords) -> Phrases:
    """The words for kinds of size: "diameter", "end float"."""
    return Phrases(w for key in ("grows", "shrinks", "either") for w in words.words("measures", key))


@lru_cache(maxsize=1)
def limit_words() -> LimitWords:
    """The words of the language file beside this module."""
    text = resources.files(__package__).joinpath("limits.toml").read_text(encoding="utf-8")
    return LimitWords(tomllib.loads(text))
