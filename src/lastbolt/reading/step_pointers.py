"""Steps that a sentence names by marks with brackets: "steps (1) and (2)", "items 2) to 4)"."""

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon, Scan
from lastbolt.reading.numbers import any_of


class Marked(NamedTuple):
    """Steps and where they are named."""

    start: int
    end: int
    first: str
    last: str


@lru_cache(maxsize=4)
def _list(language: Lexicon) -> re.Pattern[str]:
    """One mark in brackets, or several that "and", "to" or a comma joins."""
    mark = r"\(?\s?(?:\d{1,3}[a-z]?|[A-Za-z])\s?\)"
    joints = any_of((*language.words("pointing", "through"), *language.words("pointing", "and")))
    alternatives = any_of(language.words("pointing", "alternatives"))
    return re.compile(rf"\s?(?P<all>{mark}(?:\s?(?:{joints}|{alternatives})\s?{mark})*)", re.IGNORECASE)


def marked_steps(scan: Scan, language: Lexicon) -> Iterator[Marked]:
    """The steps that a text names by marks in brackets."""
    if ")" not in scan.text:
        return
    for hit in scan.of("pointing", "step", "marked"):
        match = _list(language).match(scan.text, hit.end)
        if match is not None:
            marks = re.findall(r"\w+(?=\s?\))", match["all"])
            yield Marked(hit.start, match.end(), marks[0], marks[-1])
