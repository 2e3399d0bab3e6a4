"""The patterns of numbers that point, made of the words of a language: lists, runs, steps of a section."""

import re
from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.numbers import any_of

NUMBER = (
    r"(?:\d{1,3}[A-Z](?:[.\-–]\d{1,3}){1,3}|[IVX]{1,5}(?:[.\-–]\d{1,3}){1,3}|\d{1,3}[/:·]\d{1,3}(?![\d/])"
    r"|\d{1,3}(?:[.\-‑–]\d{1,3}){1,4}[A-Za-z]?|\d{1,2}[A-Z]\d{1,2}(?!\d)|\d{1,4}[A-Za-z]?(?!\d)"
    r"|[A-Z]{1,2}\d?(?:[.\-–]\d{1,3}){1,3}|[A-Z]{1,2}\d{1,3}[a-z]?(?![\w])|[IVX]{1,5}\b|[A-Z]\b)"
)
MULTI = (
    r"(?:\d{1,3}[A-Z](?:[.\-–]\d{1,3}){1,3}|[IVX]{1,5}(?:[.\-–]\d{1,3}){1,3}|\d{1,3}(?:[.\-‑–]\d{1,3}){1,4}[A-Za-z]?"
    r"|\d{1,2}[A-Z]\d{1,2}(?!\d)|[A-Z](?:[.\-–]\d{1,3}){1,3})"
)
ROMAN = re.compile(r"\s?(?P<first>[ivxlc]{1,7})(?P<rest>)(?!\w)")
"""The number of a page of the front matter."""
_PLACE = r"[A-Za-z§¶]{1,10}\.?\s"
"""The word for a place once more: "sections 4.2 and paragraph 4.3"."""


class Patterns(NamedTuple):
    """What is looked for in a sentence of one language."""

    listed: re.Pattern[str]
    """Numbers behind a word such as "section"."""
    figures: re.Pattern[str]
    """Numbers behind a word such as "figure" that begin with a letter: "E6"."""
    sections: re.Pattern[str]
    """Numbers of two parts or more behind a cue."""
    further: re.Pattern[str]
    """Behind steps, the number of a section: "steps 1 to 6, then 5.2"."""
    bracket: re.Pattern[str]
    runs: re.Pattern[str]
    either: re.Pattern[str]
    """A word such as "or"."""
    either_bracket: re.Pattern[str]
    """Between two brackets that are alternatives."""
    beside: re.Pattern[str]
    """Between a chapter and its section."""
    within: re.Pattern[str]
    """The word that turns them round: "section 3 of chapter 4"."""
    narrows: re.Pattern[str]
    """Between a section and its steps."""


def _each(words: Iterable[str]) -> str:
    """Any of the words, each whole; of signs only themselves."""
    return "|".join(re.escape(w) + (r"\b" if w[-1].isalnum() else "") for w in sorted(words, key=len)[::-1])


@lru_cache(maxsize=4)
def patterns(language: Lexicon) -> Patterns:
    """The patterns of a language."""
    ands, either = language.words("ands"), any_of(language.words("pointing", "alternatives"))
    both = any_of(language.words("left_over", "both"))
    then = any_of(language.words("left_over", "then"))
    through = language.words("pointing", "through")
    joint = rf"(?:,\s(?:{any_of(ands)})\b|{_each((*ands, *through))}|[,;&–—/+-])"
    comma = rf"(?:,|;|{both}|{either}|&)"
    the = any_of(language.words("left_over", "the"))
    inside, of_steps = (any_of(language.words("left_over", key)) for key in ("inside", "of_steps"))
    units = any_of(language.words("left_over", "unit_starts"))
    words = any_of(language.words("left_over", "unit_words"))
    more = rf"(?:\s?(?:{joint}|\)\s?(?:{either}|{both})\s?\()\s?(?:{_PLACE})?{NUMBER})*"
    return Patterns(
        re.compile(rf"\s?(?P<first>{NUMBER})(?P<rest>{more})(?![\w°%])"),
        re.compile(
            rf"\s?(?P<first>[A-Z]{{1,2}}\d{{1,3}}[a-z]?)(?P<rest>(?:\s?{joint}\s?[A-Z]{{1,2}}\d{{1,3}})*)(?!\w)"
        ),
        re.compile(
            rf"\s?\(?\s?(?P<first>{MULTI})(?P<rest>(?:\s?(?:\)\s)?{joint}\s?\(?\s?{MULTI})*)"
            rf"(?![\w°%×]|\s?(?:{units}|(?:{words})\b|x\s|°))"
        ),
        re.compile(
            rf"\s?{comma}?\s?(?:(?:{any_of(ands)})\s)?(?P<first>(?:(?<={then}\s){MULTI}"
            rf"|\d{{1,3}}(?:\.\d{{1,3}}){{1,4}}[A-Za-z]?))(?:\s?{comma}\s?{MULTI})*"
        ),
        re.compile(rf"\(\s?(?P<list>{MULTI}(?:\s?{joint}\s?{MULTI})*)\s?\)"),
        re.compile(rf"\s?(?:{any_of(through)})\s?(?:{_PLACE})?"),
        re.compile(rf"\b(?:{either})\b"),
        re.compile(rf"\s(?:{either})\s.{{0,40}}?"),
        re.compile(rf",?\s(?:(?:{inside})\s)?(?:(?:{the})\s)?"),
        re.compile(rf"\b(?:{inside})\b"),
        re.compile(rf"[\s,(]*(?:{of_steps})?[\s,(]*(?:(?:{the})\s)?"),
    )
