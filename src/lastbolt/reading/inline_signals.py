"""Warnings that stand in the middle of a paragraph: "Beforehand: oil drained. WARNING: Hot oil burns."."""

import re
from functools import lru_cache

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.numbers import any_of


@lru_cache(maxsize=4)
def _signal(language: Lexicon) -> re.Pattern[str]:
    """A signal word in capitals with a sign behind it, at the beginning of a sentence."""
    words = [word.upper() for words in language.data["signals"].values() for word in words]
    return re.compile(rf"(?:^|(?<=[.;:!?)])\s+)(?P<word>{any_of(words)})\s?(?:[:!]|\s[–—-]\s)\s*")


def part_signals(text: str, language: Lexicon) -> tuple[str, list[tuple[str, str]]]:
    """The text up to the first signal word; and of each the name of its list and its words."""
    found = list(_signal(language).finditer(text))
    if not found:
        return text, []
    names = {word.upper(): key for key, words in language.data["signals"].items() for word in words}
    ends = [match.start() for match in found[1:]] + [len(text)]
    told = [(names[m["word"]], text[m.end() : end].strip()) for m, end in zip(found, ends, strict=True)]
    return text[: found[0].start()].strip(), [(name, words) for name, words in told if words]
